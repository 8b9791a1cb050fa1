import type { Finding } from '../draft.ts';
import type { Reading } from '../kit.ts';
import { readingsOf } from '../read/to-step.ts';
import { pathOfItem } from '../source.ts';
import { isLive } from './check.ts';
import type { CheckContext, KitCheck } from './check.ts';
import { walkSteps } from './walk.ts';
import type { WalkedStep } from './walk.ts';

/** Readings whose condition is never switched on, or is not on at the step that takes them. */
export const checkConditionOfReadings: KitCheck = {
  needs: ['conditions', 'readings', 'steps'],
  run: (context) => {
    const { chosen, draft, steps } = context;
    const walked = walkSteps(chosen, steps);
    const everOn = new Set(walked.map(({ next }) => next?.id));
    const neverOn = chosen.readings.filter((reading) => {
      const condition = chosen.conditions.find(({ id }) => id === reading.in);
      return condition && isLive(condition) && !everOn.has(condition.id);
    });
    const never = neverOn.map((reading): Finding => {
      const path = `${pathOfItem(draft.source, 'readings', reading)}.in`;
      const message = `"${reading.id}" is taken in "${reading.in}", which no step switches on`;
      const hint = `Add a step with "switch-on: ${reading.in}", or take the reading in another condition.`;
      return { code: 'kit/condition-never-on', path, message, hint };
    });
    const silent = new Set(neverOn.map(({ id }) => id));
    return [...never, ...walked.flatMap((step) => checkStep(context, step, silent))];
  },
};

function checkStep({ chosen }: CheckContext, walked: WalkedStep, silent: ReadonlySet<string>): Finding[] {
  const { action } = walked.step;
  // A comparison uses what was read before.
  if (action.kind === 'compare') return [];
  const wrong = readingsOf(action).find((id) => {
    const reading = chosen.readings.find((other) => other.id === id);
    return reading !== undefined && !silent.has(id) && !isInCondition(reading, walked, chosen.conditions);
  });
  if (wrong === undefined) return [];
  const reading = chosen.readings.find(({ id }) => id === wrong);
  const now = walked.live ? `"${walked.live.id}" is on` : 'the plug is out';
  const message = `"${wrong}" is taken in "${reading?.in ?? ''}", but at this step ${now}`;
  const hint = 'Move the step, or switch the condition on or off before it.';
  return [{ code: 'kit/condition-not-on', path: `${walked.path}.${action.kind}`, message, hint }];
}

function isInCondition(
  reading: Reading,
  { live }: WalkedStep,
  conditions: CheckContext['chosen']['conditions'],
): boolean {
  const condition = conditions.find(({ id }) => id === reading.in);
  if (!condition) return true;
  return isLive(condition) ? live?.id === condition.id : live === null;
}
