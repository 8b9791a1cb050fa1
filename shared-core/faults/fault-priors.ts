import type { FaultName, FaultSort } from './fault.ts';

/**
 * How often builders make each mistake, against each other: chances for each joint, part or place.
 *
 * Common practice, no source: joints that do not hold lead, then wrong values and wrong places, new parts that
 * are broken come last. A designer's own records replace them.
 */
export const usualPriors: Readonly<Record<FaultSort, number>> = {
  'joint missing': 6,
  'wrong place': 2,
  bridge: 2,
  'exchanged part': 6,
  'wrong value': 1,
  reversed: 6,
  'leads exchanged': 4,
  'valve missing': 2,
  'valve worn': 2,
  'wrong valve': 4,
  leaky: 1,
  'broken part': 0.5,
  setting: 3,
};

/** Weights by fault id where a designer has collected some, else by sort. */
export interface FaultPriors {
  readonly bySort: Readonly<Record<FaultSort, number>>;
  /** Fault id to weight. */
  readonly byFault: Readonly<Record<string, number>>;
  /** Share of two faults at once, or something outside the model, among unhealthy builds. */
  readonly beyond: number;
}

/** The priors in use until a designer gives others. */
export const plainPriors: FaultPriors = { bySort: usualPriors, byFault: {}, beyond: 0.01 };

/** Weight of one fault. */
export function priorOf(priors: FaultPriors, fault: FaultName & { readonly sort: FaultSort }): number {
  return priors.byFault[`${fault.part} ${fault.kind}`] ?? priors.bySort[fault.sort];
}
