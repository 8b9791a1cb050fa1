import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';
import type { ConditionFacts, SafetyFacts, StepFacts } from '../../../shared-core/safety/facts.ts';
import type { SafetyEvent } from '../../../shared-core/safety/events.ts';
import { isBlocking, readingsOfStep } from '../../../shared-core/safety/lookup.ts';
import type { Refusal } from '../../../shared-core/safety/refusal.ts';

/** What the middle of the screen is for now; the energy state comes before the kit's steps. */
export type WalkMode =
  /** Past a stop limit, or something is wrong: the only action is to pull the plug. */
  | { readonly kind: 'pull' }
  /** Energy may be inside and the plug is not confirmed out. */
  | { readonly kind: 'plug-out' }
  /** The plug is out: say what went wrong. */
  | { readonly kind: 'describe' }
  | { readonly kind: 'drain' }
  /** Live in a condition that the step on the screen does not belong to. */
  | { readonly kind: 'live'; readonly condition: string }
  /** Dead again after work inside: what rule 11 asks for. */
  | { readonly kind: 'after-work' }
  | { readonly kind: 'step'; readonly step: string }
  | { readonly kind: 'finished' };

/**
 * Chooses what to show.
 *
 * @param safety The energy state as it stands now.
 * @param wanted The step that the builder looks at, or the current one; null when all are done.
 * @param isChosen The builder chose that step; it was not simply the next one.
 * @param reentry The one step that may be shown while draining: see `reentryStep`.
 */
export function walkMode(
  safety: SafetyState,
  facts: SafetyFacts,
  wanted: string | null,
  isChosen = false,
  reentry: string | null = null,
): WalkMode {
  const { energy, wrong, afterWork } = safety;
  const step = facts.steps.find((each) => each.id === wanted);
  if (energy.kind === 'live') {
    if (energy.mustPull !== null) return { kind: 'pull' };
    const isHere = step !== undefined && belongsTo(step, energy.condition);
    return isHere ? { kind: 'step', step: step.id } : { kind: 'live', condition: energy.condition };
  }
  if (energy.kind === 'draining') {
    if (energy.plugOut === null) return { kind: 'plug-out' };
    if (wrong !== null && wrong.signs === null) return { kind: 'describe' };
    const isReentry = isChosen && step !== undefined && step.id === reentry;
    return isReentry ? { kind: 'step', step: step.id } : { kind: 'drain' };
  }
  if (wrong !== null && wrong.signs === null) return { kind: 'describe' };
  // What stands open is repaired first; then rule 11 comes before the steps, unless one was chosen to look at.
  const isDue = !isChosen && !hasOpenVerdict(safety);
  if (afterWork !== null && (step === undefined || isDue || isPowered(step.action.kind))) {
    return { kind: 'after-work' };
  }
  return step === undefined ? { kind: 'finished' } : { kind: 'step', step: step.id };
}

/**
 * The step that switches the same condition on again while draining; null where the rules ask for a proof.
 *
 * @param refusalsOf What the core's rules say to an event now.
 */
export function reentryStep(
  { energy }: SafetyState,
  facts: SafetyFacts,
  refusalsOf: (event: SafetyEvent) => readonly Refusal[],
): string | null {
  if (energy.kind !== 'draining' || energy.from === null) return null;
  const { from } = energy;
  const step = facts.steps.find(({ action }) => action.kind === 'switch-on' && action.condition === from);
  if (step === undefined) return null;
  const refused = refusalsOf({ kind: 'plugged-in', condition: from, step: step.id, by: 'hand' });
  return refused.some(({ code }) => code === 'safety/reentry') ? null : step.id;
}

/** While live, only steps of that condition, and the way out of it, make sense. */
function belongsTo({ condition, action, reach }: StepFacts, live: string): boolean {
  if (condition === live || action.kind === 'switch-off') return true;
  return condition === null && reach !== 'inside' && !isPowered(action.kind);
}

function hasOpenVerdict({ readings }: SafetyState): boolean {
  return Object.values(readings).some(({ verdict, settled }) => isBlocking(verdict) && settled === 'open');
}

/** Steps that lead to the plug, or need it. */
function isPowered(action: string): boolean {
  return action === 'switch-on' || action === 'switch-off';
}

/** The readings of a step, in the kit's order; empty for a step without any. */
export function stepReadings(facts: SafetyFacts, id: string): readonly string[] {
  const step = facts.steps.find((each) => each.id === id);
  return step === undefined ? [] : readingsOfStep(step);
}

/** Where a step stands: its number among all, from 1, and its chapter. */
export function stepPlace(
  chapters: readonly { readonly title: string; readonly steps: readonly { readonly id: string }[] }[],
  id: string,
): { readonly number: number; readonly of: number; readonly chapter: string } {
  const all = chapters.flatMap((chapter) => chapter.steps.map((step) => ({ id: step.id, chapter })));
  const index = all.findIndex((each) => each.id === id);
  return { number: index + 1, of: all.length, chapter: all[index]?.chapter.title ?? '' };
}

/**
 * The condition that the sockets are made ready for in this step; null where that is not this step's work.
 *
 * Valves are parts of the step that fits their sockets; they go in and come out at the last step inside before
 * the condition that wants it so.
 */
export function conditionToFitFor(facts: SafetyFacts, id: string): ConditionFacts | null {
  const index = facts.steps.findIndex((each) => each.id === id);
  const after = facts.steps.slice(index + 1);
  const nextOn = after.findIndex(({ action }) => action.kind === 'switch-on');
  const isLastInside =
    facts.steps[index]?.reach === 'inside' &&
    after.slice(0, Math.max(nextOn, 0)).every(({ reach }) => reach !== 'inside');
  const next = after[nextOn];
  if (!isLastInside || next?.action.kind !== 'switch-on') return null;
  const { condition } = next.action;
  return facts.conditions.find((each) => each.id === condition) ?? null;
}
