import type { Finding } from '../draft.ts';
import type { Condition, Reach, Reading, Step, StepAction } from '../kit.ts';
import { actionKeys } from '../schema/sections.ts';
import type { WrittenStep } from '../schema/sections.ts';

/** What the default reach of a read step depends on. */
export interface StepSurroundings {
  readonly readings: readonly Reading[];
  readonly conditions: readonly Condition[];
}

/** A step of the kit; says so where it has more than one action. */
export function toStep(
  written: WrittenStep,
  path: string,
  surroundings: StepSurroundings,
  findings: Finding[],
): Step {
  const present = actionKeys.filter((key) => written[key] !== undefined && written[key] !== false);
  const [, second] = present;
  if (second !== undefined) {
    const message = `A step has one action, but this one has ${present.join(' and ')}`;
    const hint = 'Make it two steps.';
    findings.push({ code: 'kit/step-action', path: `${path}.${second}`, message, hint, atKey: true });
  }
  const action = toAction(written, present[0]);
  const sense = written['feedback-sense'];
  return {
    id: written.id,
    when: written.when,
    title: written.title,
    do: written.do,
    more: written.more ?? null,
    reach: written.reach ?? defaultReach(action, surroundings),
    parts: [...new Set([...written.parts, ...(written.gather ?? [])])],
    leads: written.leads,
    picture: written.picture ?? null,
    cautions: written.cautions,
    inspect: written.inspect,
    goodPlaceToStop: written['good-place-to-stop'] ?? false,
    ...(sense === undefined ? {} : { feedbackSense: sense }),
    action,
  };
}

function toAction(written: WrittenStep, key: (typeof actionKeys)[number] | undefined): StepAction {
  if (key === undefined) {
    const onlyLooks = written.inspect.length > 0 && written.parts.length + written.leads.length === 0;
    return { kind: onlyLooks ? 'inspect' : 'assemble' };
  }
  if (key === 'read' || key === 'signal') return { kind: key, readings: written[key] ?? [] };
  if (key === 'fuse') return { kind: 'fuse', part: written.fuse ?? '' };
  if (key === 'switch-on') return { kind: 'switch-on', condition: written['switch-on'] ?? '' };
  if (key === 'adjust' && written.adjust) {
    const { control, reading, target, within } = written.adjust;
    return { kind: 'adjust', control, reading, target: target.value, within };
  }
  if (key === 'compare' && written.compare) return { kind: 'compare', ...written.compare };
  if (key === 'soak' && written.soak) {
    return { kind: 'soak', seconds: written.soak.for, readings: written.soak.readings };
  }
  return { kind: key as 'gather' | 'switch-off' | 'drain' | 'listen' | 'sign' };
}

/**
 * How far a hand goes in where the kit does not say.
 *
 * Inside for whatever is done to the amplifier and for cold readings; a probe for live ones.
 */
export function defaultReach(action: StepAction, { readings, conditions }: StepSurroundings): Reach {
  switch (action.kind) {
    case 'assemble':
    case 'inspect':
    case 'fuse':
      return 'inside';
    case 'adjust':
    case 'signal':
    case 'drain':
      return 'probe';
    case 'read': {
      const first = readings.find(({ id }) => id === action.readings[0]);
      const condition = conditions.find(({ id }) => id === first?.in);
      return condition === undefined || condition.supply === 'unplugged' ? 'inside' : 'probe';
    }
    default:
      return 'outside';
  }
}

/** The readings that a step takes or uses. */
export function readingsOf(action: StepAction): readonly string[] {
  if (action.kind === 'adjust') return [action.reading];
  return 'readings' in action ? action.readings : [];
}
