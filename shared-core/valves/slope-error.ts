import type { ModelRegion, ValveSection } from './valve-type.ts';

/**
 * How far the models are off in slope and amplification, one standard deviation, relative.
 *
 * Measured, not chosen: the root mean square of ln(computed / published) over all published points of the types
 * whose parameters others fitted to curves, so that the points had no part in the fit (14 points of ECC81, ECC82,
 * ECC83, 6SN7GT, 6CG7, 2A3 and 300B; `npm run check:handbook` prints them). The types do not differ in it by
 * more than chance does, so one figure serves all; of sets that were fitted to their own points the residuals
 * say nothing. At the same points the errors of current and slope are hardly correlated (0.13), nor are slope and
 * amplification (0.25): each is an error of its own.
 */
export const pooledErrors = { slope: 0.061, amplification: 0.035 } as const;

const pooledSource =
  'residuals of the published slopes and amplification factors at 14 points of the 7 types that others fitted to curves';

/** One sigma of a figure, and where it comes from. */
interface StatedSigma {
  readonly relativeSigma: number;
  readonly source: string;
}

/**
 * Error of the slope at a given current, in a region.
 *
 * A region states its own where it is known to be wider. Where the current is known worse than the slopes of the
 * catalogue are, its derivative is not known better.
 */
export function slopeError(region: ModelRegion): StatedSigma {
  const { relativeSigma, slopeRelativeSigma, source } = region;
  const own = Math.max(relativeSigma, slopeRelativeSigma ?? 0);
  return own > pooledErrors.slope
    ? { relativeSigma: own, source }
    : { relativeSigma: pooledErrors.slope, source: pooledSource };
}

/** Error of the amplification factor of a triode at a given current and slope, in a region. */
export function amplificationError({ muRelativeSigma, source }: ModelRegion): StatedSigma {
  return muRelativeSigma !== undefined && muRelativeSigma > pooledErrors.amplification
    ? { relativeSigma: muRelativeSigma, source }
    : { relativeSigma: pooledErrors.amplification, source: pooledSource };
}

/**
 * Whether a section's model has an amplification error of its own.
 *
 * Of a pentode the factor is that from grid to screen: at a steady screen an error of it is one of the current
 * and of the slope, which are there already.
 */
export function hasAmplificationError({ device }: Pick<ValveSection, 'device'>): boolean {
  return device === 'triode';
}
