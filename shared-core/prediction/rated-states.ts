import type { ConditionState } from './condition-model.ts';
import type { RatingFigure } from './prediction.ts';

/** The states that ratings are compared in. */
export interface RatedStates {
  /** Nominal mains: design-centre ratings. */
  readonly nominal: ConditionState;
  /** High mains: design-maximum and absolute ratings. */
  readonly high: ConditionState;
  /** High mains, valves still cold: nothing loads the HT. */
  readonly warmUp: ConditionState;
  /** Lowest mains, where a kit has parts with a lower limit; null for the others. */
  readonly low: ConditionState | null;
}

/** A figure against an upper limit. */
export function rate(
  part: string,
  what: string,
  unit: string,
  value: number,
  limit: number,
  basis: RatingFigure['basis'],
): RatingFigure {
  return { part, what, unit, value, limit, percent: limit > 0 ? (100 * value) / limit : 0, basis };
}
