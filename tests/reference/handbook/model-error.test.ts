import { describe, expect, it } from 'vitest';
import { findValveType } from '../../../shared-core/valves/index.ts';
import { amplificationError, pooledErrors } from '../../../shared-core/valves/slope-error.ts';
import { errorOf, handbookRows } from './handbook-rows.ts';
import { correlation, pointErrors, rms } from './model-error.ts';

const errors = pointErrors();
const of = (what: 'current' | 'slope' | 'amplification'): number[] => errors.map((one) => one[what]);

function groupBy<Item>(items: readonly Item[], keyOf: (item: Item) => string): Map<string, Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
}

/** M. S. Bartlett, Proc. R. Soc. A 160 (1937): like chi-squared with one less than the groups where all are alike. */
function bartlett(what: 'slope' | 'amplification'): { readonly statistic: number; readonly groups: number } {
  const groups = [...groupBy(errors, ({ type }) => type).values()].map((group) =>
    group.map((one) => one[what]),
  );
  const count = errors.length;
  const apart = groups.reduce((sum, group) => sum + group.length * Math.log(rms(group) ** 2), 0);
  const inverse = groups.reduce((sum, group) => sum + 1 / group.length, 0) - 1 / count;
  const scale = 1 + inverse / (3 * (groups.length - 1));
  return { statistic: (count * Math.log(rms(of(what)) ** 2) - apart) / scale, groups: groups.length };
}

describe('the error of the valve models in slope and amplification', () => {
  it('is the root mean square of the residuals at points that had no part in the fit', () => {
    expect(errors).toHaveLength(14);
    expect(rms(of('slope'))).toBeCloseTo(pooledErrors.slope, 3);
    expect(rms(of('amplification'))).toBeCloseTo(pooledErrors.amplification, 3);
  });

  it('does not go with that of the current', () => {
    // 5 % of pairs of 14 unrelated figures are correlated by more than 0.53 (R. A. Fisher, tables).
    expect(Math.abs(correlation(of('current'), of('slope')))).toBeLessThan(0.53);
    expect(Math.abs(correlation(of('slope'), of('amplification')))).toBeLessThan(0.53);
  });

  it.each(['slope', 'amplification'] as const)('differs no more between types than by chance: %s', (what) => {
    const { statistic, groups } = bartlett(what);
    expect(groups).toBe(7);
    // The 95 % point of chi-squared with 6 degrees of freedom.
    expect(statistic).toBeLessThan(12.6);
  });

  it('covers the gains of the charts, which had no part in it, within two sigma', () => {
    const charts = groupBy(
      handbookRows().filter(({ what }) => what.endsWith(' gain')),
      ({ what }) => what.split(' ')[0]!,
    );
    expect(charts.size).toBeGreaterThanOrEqual(4);
    for (const [name, rows] of charts) {
      const [region] = findValveType(name)!.modelRegions;
      const { relativeSigma } = amplificationError(region!);
      expect(rms(rows.map(errorOf)), name).toBeLessThan(2 * relativeSigma);
    }
  });
});
