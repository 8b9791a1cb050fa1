import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from './bench.ts';
import { type ConditionState, openCondition, plugVolts, solveCondition } from './condition-model.ts';
import { nominalWorld } from './world.ts';

/**
 * How much more than its nominal voltage the mains may bring: +10 % of 230 V (IEC 60038), +5 % of 120 V
 * (ANSI C84.1, range A).
 */
export function highMains(bench: Bench): number {
  const isLow = bench.mains.volts < 160;
  const limit = isLow ? 1.05 * 120 : 1.1 * 230;
  return Math.max(bench.mains.volts, limit);
}

/** The same for too little: −10 % of 230 V, −5 % of 120 V. */
export function lowestMains(bench: Bench): number {
  return Math.min(bench.mains.volts, bench.mains.volts < 160 ? 0.95 * 120 : 0.9 * 230);
}

/** Nominal voltage of the builder's mains, in volts (V). */
export function nominalMains(bench: Bench): number {
  return bench.mains.volts < 160 ? 120 : 230;
}

/**
 * A condition while its valves warm up at high mains: rectifiers conduct, nothing draws current yet.
 */
export function solveWarmUp(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
): ConditionState {
  const model = openCondition(chosen, condition, bench, fitted, 'rectifiers');
  return solveCondition(model, nominalWorld, plugVolts(condition, bench) === 0 ? 0 : highMains(bench));
}

/** Highest voltage of a reading's place against the chassis while the valves warm up, in volts (V). */
export function warmUpVolts(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
): (reading: Reading) => number {
  const state = solveWarmUp(chosen, condition, bench, fitted);
  const { wiring } = state.model.context;
  return ({ at, against, measure }) => {
    const [red, black] = [wiring.netAt(at), wiring.netAt(against)];
    return measure === 'ac volts'
      ? Math.abs(state.mains.volts(red) - state.mains.volts(black))
      : state.volts(red) - state.volts(black);
  };
}
