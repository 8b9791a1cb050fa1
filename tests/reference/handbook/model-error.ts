import { fitResiduals } from '../../../shared-core/valves/fit-residuals.ts';
import { valveTypes } from '../../../shared-core/valves/index.ts';
import type { ValveType } from '../../../shared-core/valves/valve-type.ts';

/** What a model misses at one published point: logarithms of computed / published. */
export interface PointError {
  readonly type: string;
  readonly current: number;
  readonly slope: number;
  readonly amplification: number;
}

/**
 * Errors at published points that had no part in the fit: of the types whose parameters others fitted to curves.
 *
 * Points near cutoff, for which no slope is published, are left out.
 */
export function pointErrors(): readonly PointError[] {
  const seen = new Set<ValveType['characteristics']>();
  return valveTypes
    .filter(({ sections, characteristics }) => {
      const isOthers = /^(S\. Malcolm-Brown|N\. L\. Koren)/.test(sections[0]?.parameterSource ?? '');
      const isFresh = !seen.has(characteristics);
      seen.add(characteristics);
      return isOthers && isFresh && sections[0]?.device === 'triode';
    })
    .flatMap((type) => {
      const residuals = fitResiduals(type);
      return type.characteristics.flatMap((_, point): readonly PointError[] => {
        const of = (what: string): number => {
          const found = residuals.find((each) => each.point === point && each.what === what);
          return found ? Math.log(1 + found.error) : Number.NaN;
        };
        const [current, slope, amplification] = ['Ia', 'gm', 'mu'].map(of) as [number, number, number];
        return Number.isNaN(slope) ? [] : [{ type: type.name, current, slope, amplification }];
      });
    });
}

/** Root of the mean square; the mean is not taken out, for no model is meant to be off. */
export function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

/** How far two errors go together, −1 to 1. */
export function correlation(one: readonly number[], other: readonly number[]): number {
  const sum = one.reduce((total, value, index) => total + value * (other[index] ?? 0), 0);
  return sum / one.length / rms(one) / rms(other);
}

/** The errors as lines to print. */
export function modelErrorLines(): readonly string[] {
  const errors = pointErrors();
  const percent = (value: number): string => `${(100 * value).toFixed(1)} %`.padStart(9);
  const row = (what: string, one: Omit<PointError, 'type'>): string =>
    `${what.padEnd(28)}${percent(one.current)}${percent(one.slope)}${percent(one.amplification)}`;
  const of = (what: 'current' | 'slope' | 'amplification'): number => rms(errors.map((one) => one[what]));
  return [
    'Model error (ln computed / published) at points that had no part in the fit:      Ia       gm       mu',
    ...errors.map((one) => row(one.type, one)),
    row(`rms of ${errors.length} points`, {
      current: of('current'),
      slope: of('slope'),
      amplification: of('amplification'),
    }),
  ];
}
