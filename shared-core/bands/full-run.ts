import type { ChosenKit } from '../kit/chosen-kit.ts';
import { seededRandom, seedOfText } from '../numerics/random.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { openCondition, plugVolts, solveCondition } from '../prediction/condition-model.ts';
import { nominalWorld } from '../prediction/world.ts';
import { listSpreads } from './list-spreads.ts';
import { quickReadings } from './quick-readings.ts';
import { drawDeviation } from './spread.ts';
import type { ToleranceRun } from './tolerance-run.ts';

/**
 * Draws amplifiers at random and solves every one of them in full, mains side and ripple included: the
 * slow truth that bands are checked against.
 *
 * Everything that scatters scatters at once; only the meter's accuracy is left out.
 *
 * @param samples How many amplifiers.
 * @param seed Equal seeds give equal amplifiers.
 */
export function fullRun(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
  samples: number,
  seed: number,
): ToleranceRun {
  const condition = chosen.conditions.find(({ id }) => id === conditionId);
  if (!condition) return { readings: [], rows: [], failed: 0 };
  const mainsVolts = plugVolts(condition, bench);
  const nominal = solveCondition(openCondition(chosen, condition, bench, fitted), nominalWorld, mainsVolts);
  const readings = chosen.readings.filter(
    (reading) => reading.in === conditionId && reading.measure !== 'insulation' && reading.expect === null,
  );
  const heat = condition.supply === 'unplugged' ? 'cold' : 'hot';
  const model = openCondition(chosen, condition, bench, fitted, heat);
  const { asked } = quickReadings(model, readings, nominalWorld, mainsVolts);
  const { spreads } = listSpreads(nominal, asked);
  const random = spreads.map(({ quantity }) => seededRandom((seed ^ seedOfText(quantity)) >>> 0));
  const rows: Float64Array[] = [];
  for (let sample = 0; sample < samples; sample += 1) {
    const world = Object.fromEntries(
      spreads.map((spread, index) => [spread.quantity, drawDeviation(spread, random[index] ?? (() => 0.5))]),
    );
    const { values } = quickReadings(model, readings, world, mainsVolts);
    if (values.every(Number.isFinite)) rows.push(values);
  }
  return { readings: readings.map(({ id }) => id), rows, failed: samples - rows.length };
}
