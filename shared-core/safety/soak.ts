import type { SafetyState } from './energy-state.ts';
import type { StepFacts } from './facts.ts';
import { isPassedOrAccepted } from './lookup.ts';
import type { Stamp } from './stamp.ts';

/**
 * When the time of a soak step is over, as a tick of this run, in milliseconds (ms).
 *
 * It counts from the start of the step, or from the plug where that went in later; null while the step is not
 * started or its condition is not live.
 */
export function soakOverTick(step: StepFacts, state: SafetyState): number | null {
  const begun = soakBegun(step, state);
  return begun === null || step.action.kind !== 'soak' ? null : begun.tick + step.action.seconds * 1000;
}

/** When the time of a soak step began to run; null while it does not. */
export function soakBegun(step: StepFacts, { energy, steps }: SafetyState): Stamp | null {
  const started = steps[step.id]?.started;
  if (step.action.kind !== 'soak' || started === undefined || energy.kind !== 'live') return null;
  if (step.condition !== null && step.condition !== energy.condition) return null;
  const { since } = energy;
  return started.run === since.run && started.tick > since.tick ? started : since;
}

/** Time that a soak still asks for, in seconds (s): 0 when it is over, null when it does not run. */
export function soakLeftSeconds(step: StepFacts, state: SafetyState, now: Stamp): number | null {
  const over = soakOverTick(step, state);
  return over === null ? null : Math.max(over - now.tick, 0) / 1000;
}

/** A reading of a soak step was taken after its time, and passed. */
export function isReadAfterSoak(step: StepFacts, reading: string, state: SafetyState): boolean {
  const over = soakOverTick(step, state);
  const standing = state.readings[reading];
  if (over === null || standing === undefined || state.energy.kind !== 'live') return false;
  const isAfter = standing.stamp.run === state.energy.since.run && standing.stamp.tick >= over;
  return isAfter && isPassedOrAccepted(reading, state);
}
