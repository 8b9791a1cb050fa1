import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import type { ConditionPrediction, DrainPrediction } from '../prediction/prediction.ts';

/** What the facts are derived from. */
export interface FactsBasis {
  readonly chosen: ChosenKit;
  readonly kitHash: string;
  readonly bench: Bench;
  readonly fitted: Fitted;
  /** Every condition of the kit. */
  readonly predictions: readonly ConditionPrediction[];
  readonly drain: DrainPrediction;
}
