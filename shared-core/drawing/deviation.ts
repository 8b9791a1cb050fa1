/** The figures of a band that a deviation needs, in the reading's SI unit. */
export interface DeviationBand {
  readonly low: number | null;
  readonly nominal: number | null;
  readonly high: number | null;
}

/**
 * Where a value lies in its own band: 0 at nominal, −1 at the low end, +1 at the high end.
 *
 * Bands are lopsided, so each side is measured by its own half. Readings of volts and ohms become comparable.
 *
 * @returns In half-bands; null without a band that has two ends and a nominal between them.
 */
export function deviation(value: number, { low, nominal, high }: DeviationBand): number | null {
  if (low === null || nominal === null || high === null) return null;
  const half = value < nominal ? nominal - low : high - nominal;
  const result = (value - nominal) / half;
  return half > 0 && Number.isFinite(result) ? result : null;
}
