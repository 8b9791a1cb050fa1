/**
 * The point that a standard normal variable exceeds with a small probability.
 *
 * M. Abramowitz, I. A. Stegun, "Handbook of Mathematical Functions" (1964), 26.2.23: off by less than 4.5e-4.
 *
 * @param tail Probability above the point, above 0 and at most 0.5.
 */
export function normalPoint(tail: number): number {
  const t = Math.sqrt(-2 * Math.log(tail));
  const above = 2.515517 + t * (0.802853 + t * 0.010328);
  const below = 1 + t * (1.432788 + t * (0.189269 + t * 0.001308));
  return t - above / below;
}

/** Chance of a false finding in a whole family of looks: 1 %. */
export const familyError = 0.01;

/**
 * How many standard deviations a finding must be away from nothing, so that among so many looks together at most
 * one fleet in a hundred shows a finding where there is none.
 *
 * Bonferroni's inequality, two-sided: holds however the looks hang together.
 */
export function familyLimit(looks: number): number {
  return normalPoint(familyError / (2 * Math.max(1, looks)));
}
