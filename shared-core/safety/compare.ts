import type { SafetyState } from './energy-state.ts';
import type { SafetyFacts, StepFacts } from './facts.ts';

/** Two readings against each other: the difference as a share of their mean size; null until both are there. */
export function shareApart(one: number | null, other: number | null): number | null {
  if (one === null || other === null) return null;
  const mean = (Math.abs(one) + Math.abs(other)) / 2;
  return mean === 0 ? 0 : Math.abs(one - other) / mean;
}

/** How far the readings of a compare step are apart, as a share; null for other steps, and until both have a figure. */
export function apartOf({ action }: StepFacts, { readings }: SafetyState): number | null {
  if (action.kind !== 'compare') return null;
  const [one, other] = action.readings.map((id) => readings[id]?.value ?? null);
  return shareApart(one ?? null, other ?? null);
}

/** The readings of a compare step are further apart than the kit allows. */
export function isTooFarApart(step: StepFacts, state: SafetyState): boolean {
  const apart = apartOf(step, state);
  return step.action.kind === 'compare' && apart !== null && apart > step.action.within;
}

/** The difference was accepted with a reason, and neither reading was taken again since. */
export function isApartAccepted({ id, action }: StepFacts, { readings }: SafetyState): boolean {
  if (action.kind !== 'compare') return false;
  return action.readings.every((reading) => readings[reading]?.apartAccepted?.includes(id) === true);
}

/** Both readings have figures that the kit allows beside each other, or the difference was accepted. */
export function isCompared(step: StepFacts, state: SafetyState): boolean {
  if (step.action.kind !== 'compare') return true;
  const isThere = apartOf(step, state) !== null;
  return (isThere && !isTooFarApart(step, state)) || isApartAccepted(step, state);
}

/** The compare steps for which this reading stands too far from the other one. */
export function apartSteps(reading: string, state: SafetyState, facts: SafetyFacts): readonly StepFacts[] {
  return facts.steps.filter(
    (step) =>
      step.action.kind === 'compare' && step.action.readings.includes(reading) && isTooFarApart(step, state),
  );
}
