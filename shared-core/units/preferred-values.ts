/** A series of preferred values: how many steps there are in a decade. */
export type PreferredSeries = 'E6' | 'E12' | 'E24' | 'E48' | 'E96';

/** IEC 60063:2015, E24. The list is the standard's: rounding 10^(n/24) gives eight other values. */
const e24 = [
  1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8,
  7.5, 8.2, 9.1,
] as const;

/** IEC 60063: E48 and E96 are 10^(n/N) rounded to three digits. */
function computed(steps: number): readonly number[] {
  return Array.from({ length: steps }, (_, n) => Number((10 ** (n / steps)).toFixed(2)));
}

/** The values of one decade, from 1 to 10, of each series (IEC 60063:2015). */
export const preferredValues: Readonly<Record<PreferredSeries, readonly number[]>> = {
  E6: e24.filter((_, n) => n % 4 === 0),
  E12: e24.filter((_, n) => n % 2 === 0),
  E24: e24,
  E48: computed(48),
  E96: computed(96),
};

/**
 * The preferred value next to a value, on a logarithmic scale.
 *
 * @param value Above zero, in any unit.
 */
export function nearestPreferred(value: number, series: PreferredSeries): number {
  const decade = Math.floor(Math.log10(value));
  const candidates = [...preferredValues[series], 10].flatMap((step) => [
    Number(`${step}e${decade}`),
    Number(`${step}e${decade - 1}`),
  ]);
  const distance = (candidate: number) => Math.abs(Math.log(candidate / value));
  return candidates.reduce((best, candidate) => (distance(candidate) < distance(best) ? candidate : best));
}

/** Whether a value belongs to the series, within the noise of a binary fraction. */
export function isPreferred(value: number, series: PreferredSeries): boolean {
  return value > 0 && Math.abs(nearestPreferred(value, series) / value - 1) < 1e-9;
}
