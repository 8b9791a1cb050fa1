import { describe, expect, test } from 'vitest';
import { shareDifference, wilsonShare } from '../../../shared-core/feedback/wilson.ts';

describe('the share of builds with its interval', () => {
  // R. G. Newcombe, "Two-sided confidence intervals for the single proportion: comparison of seven methods",
  // Statist. Med. 17 (1998), table I, method 3 (score without continuity correction), 95 %; from memory.
  test.each([
    [81, 263, 0.2553, 0.3662],
    [15, 148, 0.0624, 0.1605],
    [0, 20, 0, 0.1611],
    [1, 29, 0.0061, 0.1718],
  ])('of %i in %i is Newcombe’s score interval', (count, of, low, high) => {
    const share = wilsonShare(count, of);
    // Four decimals are printed.
    expect(Math.abs(share.low - low)).toBeLessThan(5.1e-5);
    expect(Math.abs(share.high - high)).toBeLessThan(5.1e-5);
  });

  test('solves the equation it comes from: (p − share)² = z² p (1 − p) / n at both ends', () => {
    const { low, high } = wilsonShare(7, 50);
    for (const p of [low, high]) {
      expect((p - 0.14) ** 2).toBeCloseTo((1.959964 ** 2 * p * (1 - p)) / 50, 12);
    }
  });

  test('of nothing says nothing', () => {
    expect(wilsonShare(0, 0)).toEqual({ count: 0, of: 0, share: null, low: 0, high: 1 });
  });

  test('reaches 0 and 1 exactly at the ends', () => {
    expect([wilsonShare(0, 7).low, wilsonShare(7, 7).high]).toEqual([0, 1]);
  });
});

describe('the difference of two shares', () => {
  test('is Newcombe’s hybrid score interval', () => {
    // R. G. Newcombe, "Interval estimation for the difference between independent proportions", Statist. Med. 17
    // (1998), table II, example (a) 56/70 − 48/80, method 10: 0.0524 to 0.3339; from memory.
    const difference = shareDifference(wilsonShare(48, 80), wilsonShare(56, 70));
    expect(difference?.difference).toBeCloseTo(0.2, 12);
    expect(difference?.low).toBeCloseTo(0.0524, 4);
    expect(difference?.high).toBeCloseTo(0.3339, 4);
  });

  test('of a share of nothing is null', () => {
    expect(shareDifference(wilsonShare(0, 0), wilsonShare(1, 2))).toBeNull();
  });
});
