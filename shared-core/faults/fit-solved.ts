import type { ConditionState } from '../prediction/condition-model.ts';
import type { ConditionPrediction } from '../prediction/prediction.ts';
import type { SetAdjusters } from './fit-adjust.ts';
import type { AskedSocket } from './fit-asked.ts';
import type { PinFit } from './fit-pins.ts';
import type { RatingChange } from './fit-report.ts';

/** A socket, its type, and how the pins compare. */
export interface ComparedSocket extends AskedSocket {
  readonly pins: PinFit;
}

/** The kit solved with its own valves and with those that its pins allow. */
export interface SolvedFit {
  readonly before: readonly ConditionPrediction[];
  readonly after: readonly ConditionPrediction[];
  /** The most telling condition, before and after. */
  readonly stateBefore: ConditionState | undefined;
  readonly stateAfter: ConditionState | undefined;
  /** Every condition solved with the kit's types and with those in hand, nominal. */
  readonly statesBefore: readonly ConditionState[];
  readonly states: readonly ConditionState[];
  readonly set: SetAdjusters;
  /** Grid resistances, held against the types in hand. */
  readonly grids: readonly RatingChange[];
}
