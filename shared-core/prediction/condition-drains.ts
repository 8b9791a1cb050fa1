import type { DrainOutcome } from '../circuit/drain.ts';
import type { ConditionDrain, DrainCurve } from './prediction.ts';

/** The drains that were computed for conditions which differ in no more than names and times. */
export interface DrainRun {
  readonly likely: DrainOutcome;
  /** Valves hot where they are fitted, smallest values, start at low mains: no store is quicker. */
  readonly quickest: DrainOutcome;
}

/** Figures of a curve that is kept with the build: a hundredth of a meter's own accuracy. */
const keptDigits = 5;

/**
 * One store's drain after each condition.
 *
 * A run that failed is left out: then the curves of all conditions hold.
 */
export function conditionDrains(
  runs: readonly { readonly conditions: readonly string[]; readonly run: DrainRun }[],
  part: string,
): Readonly<Record<string, ConditionDrain>> {
  const drains: Record<string, ConditionDrain> = {};
  for (const { conditions, run } of runs) {
    const fast = storeOf(run.quickest, part);
    const likely = storeOf(run.likely, part);
    if (fast === null || likely === null) continue;
    const drain: ConditionDrain = {
      ...{ fastSeconds: fast.seconds, fast: fast.curve },
      ...{ likelySeconds: likely.seconds, likely: likely.curve },
    };
    for (const condition of conditions) drains[condition] = drain;
  }
  return drains;
}

function storeOf(outcome: DrainOutcome, part: string): { seconds: number | null; curve: DrainCurve } | null {
  const store = outcome.stores.find(({ element }) => element === part);
  if (store === undefined || outcome.failure !== null) return null;
  const kept = (value: number): number => Number(value.toPrecision(keptDigits));
  return {
    seconds: store.seconds,
    curve: { seconds: outcome.seconds.map(kept), volts: store.curve.map((volts) => kept(Math.abs(volts))) },
  };
}
