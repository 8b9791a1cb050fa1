import { describe, expect, it } from 'vitest';
import { linearBands } from '../../../shared-core/bands/linear-bands.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import { currentSigma, matchedShares } from '../../../shared-core/valves/spread.ts';
import { asStated, chooseOwn } from '../prediction/heron.ts';

describe('matched valves', () => {
  const { chosen } = chooseOwn('curlew');

  /** How the readings at the sense resistors of V2 and V3 go together, and one standard deviation of the first (V). */
  function sensesOf(kit: ChosenKit, fitted = asStated) {
    const { readings, covariance } = linearBands(kit, 'running', plainBench, fitted)!;
    const [one, other] = ['v2-sense', 'v3-sense'].map((id) =>
      readings.findIndex((reading) => reading.id === id),
    ) as [number, number];
    const at = (row: number, column: number): number => covariance[row]![column]!;
    return {
      sigma: Math.sqrt(at(one, one)),
      apart: Math.sqrt(at(one, one) + at(other, other) - 2 * at(one, other)),
    };
  }

  it('keep the spread of their type, of which only ±5 % of current is each one’s own', () => {
    const el34 = findValveType('EL34')!;
    const { own, common } = matchedShares(el34);
    expect(own ** 2 + common ** 2).toBeCloseTo(1, 12);
    expect(2 * own * currentSigma(el34)).toBeCloseTo(0.05, 12);
  });

  it('draw nearer currents, with the spread of each as it was', () => {
    const { matched: _, ...unmatched } = chosen;
    const [set, loose] = [sensesOf(chosen), sensesOf(unmatched)];
    // Adjusters and sense resistors, which are each one's own, keep them apart as before.
    expect(set.apart).toBeLessThan(0.8 * loose.apart);
    // What is common to all four moves their supply too, which takes back a little of it.
    expect(Math.abs(set.sigma / loose.sigma - 1)).toBeLessThan(0.1);
  });

  it('are matched no longer once another type is in one of their sockets', () => {
    const { matched: _, ...unmatched } = chosen;
    const other = { ...asStated, valves: { V5: '6L6GC' } };
    expect(sensesOf(chosen, other).apart).toBeCloseTo(sensesOf(unmatched, other).apart, 12);
  });
});
