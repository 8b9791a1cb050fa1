/** How one quantity moves one reading: slope and curvature over the relative deviation. */
export interface Response {
  readonly slope: number;
  readonly curvature: number;
}

/**
 * The parabola through the nominal reading and two computed ones.
 *
 * `reading = nominal + slope · d + curvature · d²`. With the two deviations opposite this is the
 * central difference; exact for any reading that is quadratic in the quantity.
 *
 * @param nominal Reading at deviation 0.
 * @param first Deviation and reading of the first computed point.
 * @param second Deviation and reading of the second; another deviation, neither of them 0.
 */
export function fitResponse(
  nominal: number,
  first: readonly [number, number],
  second: readonly [number, number],
): Response {
  const slopeToFirst = (first[1] - nominal) / first[0];
  const slopeToSecond = (second[1] - nominal) / second[0];
  const curvature = (slopeToFirst - slopeToSecond) / (first[0] - second[0]);
  return { slope: slopeToFirst - curvature * first[0], curvature };
}

/** The reading's change for a deviation. */
export function changeAt(response: Response, deviation: number): number {
  return (response.slope + response.curvature * deviation) * deviation;
}
