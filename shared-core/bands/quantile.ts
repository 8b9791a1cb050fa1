/**
 * The value below which a share of the samples lies, linear between neighbours.
 *
 * R. J. Hyndman, Y. Fan, "Sample Quantiles in Statistical Packages", Am. Stat. 50 (1996), type 7.
 *
 * @param sorted Samples in rising order, one or more.
 * @param share 0 to 1.
 */
export function quantileOfSorted(sorted: ArrayLike<number>, share: number): number {
  const place = share * (sorted.length - 1);
  const below = Math.floor(place);
  const low = sorted[below] ?? 0;
  const high = sorted[Math.min(below + 1, sorted.length - 1)] ?? low;
  return low + (high - low) * (place - below);
}
