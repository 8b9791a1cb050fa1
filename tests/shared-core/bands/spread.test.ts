import { describe, expect, it } from 'vitest';
import { quantileOfSorted } from '../../../shared-core/bands/quantile.ts';
import { changeAt, fitResponse } from '../../../shared-core/bands/response.ts';
import { drawDeviation, probeDeviations, type Spread } from '../../../shared-core/bands/spread.ts';
import { seededRandom } from '../../../shared-core/numerics/random.ts';

function spread(low: number, high: number, shape: Spread['shape']): Spread {
  return { quantity: 'R1', what: 'R1', low, high, shape, source: 'test' };
}

function draw(of: Spread, count: number): Float64Array {
  const random = seededRandom(7);
  return Float64Array.from({ length: count }, () => drawDeviation(of, random)).sort();
}

describe('drawDeviation', () => {
  it('stays inside the limits and is the same for the same seed', () => {
    for (const shape of ['bell', 'flat'] as const) {
      const samples = draw(spread(-0.2, 0.5, shape), 5000);
      expect(samples[0]).toBeGreaterThanOrEqual(-0.2);
      expect(samples.at(-1)).toBeLessThanOrEqual(0.5);
      expect(samples).toEqual(draw(spread(-0.2, 0.5, shape), 5000));
    }
  });

  it('has the quantiles of its law', () => {
    // 20,000 draws: standard error of the 10 % quantile of a flat law is 0.002 of the width, 3 of them allowed.
    const flat = draw(spread(-1, 1, 'flat'), 20000);
    expect(Math.abs(quantileOfSorted(flat, 0.1) + 0.8)).toBeLessThan(0.013);
    // Normal cut off at ±2: P(|z| < 1 | |z| < 2) = 0.6827 / 0.9545 = 0.7152, so 14.24 % lie below −1.
    const bell = draw(spread(-2, 2, 'bell'), 20000);
    expect(Math.abs(quantileOfSorted(bell, 0.1424) + 1)).toBeLessThan(0.03);
  });

  it('probes a one-sided spread on its own side only', () => {
    expect(probeDeviations(spread(-0.04, 0, 'flat'))).toEqual([-0.02, -0.04]);
  });
});

describe('fitResponse', () => {
  it('reproduces any parabola exactly', () => {
    const law = (d: number) => 12 + 30 * d - 200 * d * d;
    const response = fitResponse(12, [-0.02, law(-0.02)], [0.05, law(0.05)]);
    expect(response.slope).toBeCloseTo(30, 9);
    expect(response.curvature).toBeCloseTo(-200, 7);
    expect(12 + changeAt(response, 0.1)).toBeCloseTo(law(0.1), 9);
  });
});
