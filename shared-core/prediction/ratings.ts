import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition } from '../kit/kit.ts';
import type { Bench, Fitted } from './bench.ts';
import { type ConditionState, openCondition, plugVolts, solveCondition } from './condition-model.ts';
import { partRatings } from './part-ratings.ts';
import type { RatingFigure } from './prediction.ts';
import type { RatedStates } from './rated-states.ts';
import { rectifierRatings } from './rectifier-ratings.ts';
import { hasStabiliser, stabiliserRatings } from './stabiliser-ratings.ts';
import { transformerRatings } from './transformer-ratings.ts';
import { valveRatings } from './valve-ratings.ts';
import { highMains, lowestMains, nominalMains, solveWarmUp } from './warm-up.ts';
import { nominalWorld } from './world.ts';

/**
 * What a condition asks of every part, in percent of its ratings.
 *
 * Only for conditions on the mains; on the lamp and when unplugged nothing is near a rating that is not
 * nearer on the mains.
 */
export function rateCondition(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
): readonly RatingFigure[] {
  if (condition.supply !== 'mains' || plugVolts(condition, bench) === 0) return [];
  const solve = (volts: number): ConditionState =>
    solveCondition(openCondition(chosen, condition, bench, fitted), nominalWorld, volts);
  const states: RatedStates = {
    nominal: solve(nominalMains(bench)),
    high: solve(highMains(bench)),
    warmUp: solveWarmUp(chosen, condition, bench, fitted),
    low: hasStabiliser(chosen, condition, fitted) ? solve(lowestMains(bench)) : null,
  };
  if (!states.nominal.converged || !states.high.converged || !states.warmUp.converged) return [];
  return [
    ...partRatings(states),
    ...valveRatings(states),
    ...rectifierRatings(states),
    ...stabiliserRatings(states),
    ...transformerRatings(states),
  ].filter(({ value, limit, percent }) => [value, limit, percent].every(Number.isFinite));
}
