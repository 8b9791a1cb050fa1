import type { Bench } from './bench.ts';

/**
 * How far the mains may be from the figure on the bench, relative: ±1 % where it was measured (meter and
 * drift while building), ±6 % where it is only assumed (most of what IEC 60038 allows; common practice).
 */
export const mainsLimits = { measured: 0.01, assumed: 0.06 } as const;

/** Lowest mains that the bench's figure allows, in volts rms (V). */
export function lowMains({ mains }: Bench): number {
  return mains.volts * (1 - mainsLimits[mains.source]);
}
