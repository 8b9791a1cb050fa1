import { describe, expect, it } from 'vitest';
import {
  covarianceOf,
  gaussianOf,
  logDensity,
  logSum,
  whitenBy,
} from '../../../shared-core/faults/gaussian.ts';
import { overlapOf } from '../../../shared-core/faults/overlap.ts';
import { informationOf, outcomeOverlap } from '../../../shared-core/faults/suspects-next.ts';

/** Two readings that share one quantity (2 and 1 by a standard deviation of it) and have 1 of their own. */
const factors = Float32Array.from([2, 1]);
const own = Float64Array.from([1, 1]);

describe('gaussianOf', () => {
  it('gives the density of the closed form of two correlated readings', () => {
    // Covariance [[5, 2], [2, 2]], determinant 6, inverse [[2, −2], [−2, 5]] / 6.
    const covariance = covarianceOf(factors, own, 1, [0, 1]);
    expect([...covariance]).toEqual([5, 2, 2, 2]);
    const square = (2 * 9 - 2 * 2 * 3 * -1 + 5 * 1) / 6;
    const expected = -0.5 * square - 0.5 * Math.log(6) - Math.log(2 * Math.PI);
    expect(logDensity(gaussianOf(covariance, 2), Float64Array.from([3, -1]))).toBeCloseTo(expected, 12);
  });

  it('takes the wanted rows only, and gives the Mahalanobis distance', () => {
    const alone = gaussianOf(covarianceOf(factors, own, 1, [1]), 1);
    expect(whitenBy(alone, Float64Array.from([3]))).toBeCloseTo(9 / 2, 12);
  });
});

describe('logSum', () => {
  it('adds what would overflow as plain numbers', () => {
    expect(logSum([1000, 1000])).toBeCloseTo(1000 + Math.LN2, 9);
    expect(logSum([-Infinity, -Infinity])).toBe(-Infinity);
  });
});

describe('overlapOf', () => {
  const expectation = (values: readonly number[], variance = 1) => ({
    values: Float64Array.from(values),
    factors: new Float32Array(values.length),
    own: Float64Array.from(values, () => variance),
  });
  const model = { quantities: ['one'] };
  const taken = [{ place: 0 }, { place: 1 }];

  it('is 1 for the same, exp(−d²/8) at a distance of d, and little for OL against a figure', () => {
    const one = expectation([10, 20]);
    expect(overlapOf(model, taken, one, expectation([10, 20]))).toBeCloseTo(1, 12);
    expect(overlapOf(model, taken, one, expectation([12, 20]))).toBeCloseTo(Math.exp(-4 / 8), 12);
    expect(overlapOf(model, taken, one, expectation([10, Infinity]))).toBeLessThan(0.7);
  });

  it('counts unlike scatter: √(2·σ₁·σ₂/(σ₁² + σ₂²)) for each reading of equal mean', () => {
    const wide = expectation([10, 20], 9);
    // σ 1 and 3 in both readings: (2·3/10) to the power of ½, twice.
    expect(overlapOf(model, taken, expectation([10, 20]), wide)).toBeCloseTo(0.6, 12);
  });
});

describe('informationOf', () => {
  const at = (value: number) => ({ value, sigma: 1 });

  it('is the entropy of the suspects where outcomes lie apart, and nothing where they are the same', () => {
    expect(informationOf([0.5, 0.5], [at(0), at(100)])).toBeCloseTo(Math.LN2, 9);
    expect(informationOf([0.5, 0.5], [at(0), at(0)])).toBeCloseTo(0, 12);
  });

  it('takes OL and a figure for nearly different', () => {
    expect(outcomeOverlap(at(100), { value: Infinity, sigma: 0 })).toBeLessThan(0.2);
    expect(outcomeOverlap({ value: Infinity, sigma: 0 }, { value: Infinity, sigma: 0 })).toBe(1);
  });
});
