import { describe, expect, it } from 'vitest';
import { linearBands } from '../../../shared-core/bands/linear-bands.ts';
import { predictBands } from '../../../shared-core/bands/predict-bands.ts';
import { SampleBook } from '../../../shared-core/bands/sample-book.ts';
import { drawDeviation, type Spread, spreadMoments } from '../../../shared-core/bands/spread.ts';
import { seededRandom } from '../../../shared-core/numerics/random.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

const { chosen } = chooseHeron();

describe('linearBands', { timeout: 60_000 }, () => {
  it.each(['no-valves', 'rectifier', 'running', 'signal'])('is near the sampled bands: %s', (condition) => {
    const linear = linearBands(chosen, condition, plainBench, asStated);
    const sampled = predictBands(chosen, condition, plainBench, asStated, new SampleBook(1));
    let compared = 0;
    for (const { id, nominal, low, high } of linear?.readings ?? []) {
      const own = sampled?.readings.find((reading) => reading.id === id);
      if (own?.source !== 'computed' || own.nominal === null) continue;
      const width = (own.high ?? 0) - (own.low ?? 0);
      expect(nominal, id).toBe(own.nominal);
      // Curvature and the flat and cut-off parts of the distributions: 3 % of the width is measured, 5 allowed.
      expect(Math.abs((low ?? 0) - (own.low ?? 0)), `${id} low`).toBeLessThan(0.05 * width);
      expect(Math.abs((high ?? 0) - (own.high ?? 0)), `${id} high`).toBeLessThan(0.05 * width);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(0);
  });

  it('says how readings go together as the samples do', () => {
    const linear = linearBands(chosen, 'running', plainBench, asStated);
    const sampled = predictBands(chosen, 'running', plainBench, asStated, new SampleBook(1));
    const correlation = (matrix: readonly (readonly number[])[] | undefined, one: string, other: string) => {
      const [a, b] = [one, other].map(
        (id) => linear?.readings.findIndex((reading) => reading.id === id) ?? -1,
      );
      const at = (row = 0, column = 0): number => matrix?.[row]?.[column] ?? 0;
      return at(a, b) / Math.sqrt(at(a, a) * at(b, b));
    };
    for (const other of ['v2-cathode', 'v2-anode', 'v1a-anode', 'v1b-cathode', 'heater-1-running']) {
      const own = correlation(linear?.covariance, 'b1-running', other);
      // The wobble of the mains is the same in both; what is left is curvature.
      expect(Math.abs(own - correlation(sampled?.covariance, 'b1-running', other)), other).toBeLessThan(0.03);
    }
  });

  it('has no figure where there is no computed one', () => {
    const [lamp] = linearBands(chosen, 'lamp-no-valves', plainBench, asStated)?.readings ?? [];
    expect(lamp).toMatchObject({ nominal: null, low: null, high: null });
    expect(linearBands(chosen, 'no-such', plainBench, asStated)).toBeUndefined();
  });
});

describe('spreadMoments', () => {
  it.each<[Spread['shape'], number, number]>([
    ['bell', -0.2, 0.5],
    ['flat', -0.04, 0],
    ['log-normal', -0.1, 0.12],
  ])('are those of the draws: %s from %d to %d', (shape, low, high) => {
    const spread: Spread = { quantity: 'q', what: 'q', low, high, shape, source: '' };
    const random = seededRandom(3);
    const draws = Float64Array.from({ length: 100_000 }, () => drawDeviation(spread, random));
    const mean = draws.reduce((sum, value) => sum + value, 0) / draws.length;
    const variance = draws.reduce((sum, value) => sum + (value - mean) ** 2, 0) / draws.length;
    const own = spreadMoments(spread);
    // 100,000 draws: standard errors of 0.3 % of a deviation and of 0.45 % of the variance; three of each.
    expect(Math.abs(own.mean - mean)).toBeLessThan(0.01 * Math.sqrt(variance));
    expect(Math.abs(own.variance / variance - 1)).toBeLessThan(0.015);
  });
});
