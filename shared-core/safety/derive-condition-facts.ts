import type { Condition } from '../kit/kit.ts';
import { neighboursOf } from '../prediction/neighbours.ts';
import { placeVolts } from '../prediction/predict-condition.ts';
import { solveWarmUp } from '../prediction/warm-up.ts';
import type { FactsBasis } from './facts-basis.ts';
import type { ConditionFacts, ReadingFacts } from './facts.ts';

/** Transformer and parts that are not nominal, above the computed volts at high mains without load. */
const headroom = 1.05;

/** What an insulation tester puts out, in volts (V): 500 V nominal, up to 25 % more open (IEC 61557-2). */
const testerVolts = 625;

/** What the rules need to know about one condition. */
export function deriveConditionFacts(
  basis: FactsBasis,
  condition: Condition,
  readings: readonly ReadingFacts[],
): ConditionFacts {
  const { id, title, supply, fitted, lampWatts, readyAfterSeconds } = condition;
  const own = readings.filter((reading) => reading.in === id);
  const sockets = basis.chosen.parts.filter(({ kind }) => kind === 'valve').map((part) => part.id);
  return {
    ...{ id, title, supply, fitted, lampWatts, readyAfterSeconds },
    allValves: fitted === 'all' || sockets.every((socket) => fitted.includes(socket)),
    maxVolts: highestVolts(basis, condition, own),
    hasMainsSideReadings: own.some(({ mainsSide }) => mainsSide),
    cautions: condition.cautions.map((text, index) => ({ id: `${id}:${index}`, level: 'warning', text })),
  };
}

/** Highest volts that a probe may meet at high mains before anything loads the supply; null when not known. */
function highestVolts(
  { chosen, bench, fitted }: FactsBasis,
  condition: Condition,
  readings: readonly ReadingFacts[],
): number | null {
  if (condition.supply === 'unplugged') return 0;
  if (condition.supply === 'insulation-tester') return testerVolts;
  if (condition.supply === 'bench') return null;
  const state = solveWarmUp(chosen, { ...condition, supply: 'mains' }, bench, fitted);
  if (!state.converged || Object.keys(state.supplies.notPredicted).length > 0) return null;
  const touched = readings.flatMap(({ at, against }) => [at, against]);
  // A probe that slips reaches the pin or tag beside.
  const beside = touched.flatMap((place) => neighboursOf(chosen, chosen.nets[place] ?? place));
  const places = [...touched, ...beside];
  return headroom * Math.max(0, ...places.map((place) => Math.abs(placeVolts(state, place))));
}
