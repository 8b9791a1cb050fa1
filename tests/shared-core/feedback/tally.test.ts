import { describe, expect, test } from 'vitest';
import { quantileOf, robustMean, Tally, type Weighted } from '../../../shared-core/feedback/tally.ts';
import { normalDraw, seededRandom } from '../../../shared-core/numerics/random.ts';

function tallyOf(values: readonly number[]): Tally {
  const tally = new Tally();
  for (const value of values) tally.add(value);
  return tally;
}

const once = (values: readonly number[]): readonly Weighted[] => values.map((value) => [value, 1]);

describe('a tally', () => {
  test('keeps few values as they are: quartiles of 1 to 9 are 3, 5 and 7 whatever their order', () => {
    const values = tallyOf([9, 1, 8, 2, 7, 3, 6, 4, 5]).values();
    expect([0.25, 0.5, 0.75].map((share) => quantileOf(values, share))).toEqual([3, 5, 7]);
  });

  test('reads a median between two values half way', () => {
    expect(quantileOf(tallyOf([1, 2, 3, 10]).values(), 0.5)).toBe(2.5);
    expect(quantileOf([], 0.5)).toBeNull();
  });

  test('does not count what is no number', () => {
    expect(tallyOf([1, Number.NaN, Infinity]).count).toBe(1);
  });

  test.each([100, 5000])('takes out again what was added, of %i values', (count) => {
    const random = seededRandom(5);
    const values = Array.from({ length: count }, () => 200 + 30 * normalDraw(random));
    const plain = tallyOf(values);
    const changed = tallyOf([...values, 17, -4, 17]);
    for (const value of [17, -4, 17]) changed.remove(value);
    expect(changed.count).toBe(count);
    expect(changed.values()).toEqual(plain.values());
  });

  test('reads quantiles of many values to half a bin: a quarter of a percent', () => {
    // 1, 1.001, … 10: the median of the list is 5.5, the quartiles 3.25 and 7.75.
    const values = tallyOf(Array.from({ length: 9001 }, (_, index) => 1 + index / 1000)).values();
    expect(values.length).toBeLessThan(500);
    for (const [share, exact] of [
      [0.25, 3.25],
      [0.5, 5.5],
      [0.75, 7.75],
    ] as const) {
      expect(Math.abs((quantileOf(values, share) ?? 0) / exact - 1)).toBeLessThan(0.0026);
    }
  });

  test('keeps the sign and the order of negative values', () => {
    const values = tallyOf(Array.from({ length: 2001 }, (_, index) => -10 + index / 100)).values();
    expect(Math.abs(quantileOf(values, 0.5) ?? 1)).toBeLessThan(0.01);
    expect((quantileOf(values, 0.1) ?? 0) / -8).toBeCloseTo(1, 2);
  });
});

describe('the robust mean', () => {
  test('is the mean where nothing lies far out', () => {
    // Mean of 0, 1, 2, 3 is 1.5; variance of four values 5/3.
    expect(robustMean(once([0, 1, 2, 3]))).toEqual({
      count: 4,
      outliers: 0,
      mean: 1.5,
      sigma: Math.sqrt(5 / 3),
    });
  });

  test('leaves out what lies more than 3.5 deviations from the median', () => {
    const mean = robustMean(once([-40, 0, 1, 2, 3, 60]));
    expect(mean).toMatchObject({ count: 4, outliers: 2, mean: 1.5 });
  });

  test('is null of nothing', () => {
    expect(robustMean([])).toBeNull();
  });
});
