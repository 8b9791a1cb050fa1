import type { Expectation, FaultModel } from './fault-model.ts';
import { covarianceOf, gaussianOf, whitenBy } from './gaussian.ts';
import type { Taken } from './likelihood.ts';

/** Above this two amplifiers cannot be told apart. */
export const overlapLimit = 0.7;

/** What is left of an overlap for a reading that is a figure in one and OL, or not predicted, in the other. */
const otherKind = 0.1;

/**
 * How much the readings of two amplifiers overlap: 1 for the same, 0 for nothing in common.
 *
 * The coefficient of A. Bhattacharyya ("On a measure of divergence between two statistical populations", Bull.
 * Calcutta Math. Soc. 35, 1943), ∫√(p·q), of two normal laws in closed form: with Δ between the means and S half
 * the sum of the covariances, exp(−ΔᵀS⁻¹Δ/8) · √(√(|S₁||S₂|)/|S|).
 */
export function overlapOf(
  { quantities }: Pick<FaultModel, 'quantities'>,
  taken: readonly Pick<Taken, 'place'>[],
  one: Expectation,
  other: Expectation,
): number {
  const places: number[] = [];
  let odd = 1;
  for (const { place } of taken) {
    const [first, second] = [one.values[place]!, other.values[place]!];
    if (Number.isFinite(first) && Number.isFinite(second)) places.push(place);
    else if (!Object.is(first, second)) odd *= otherKind;
  }
  if (odd < overlapLimit) return odd;
  const width = quantities.length;
  const [first, second] = [one, other].map(({ factors, own }) => covarianceOf(factors, own, width, places));
  const size = places.length;
  const middle = first!.map((value, index) => (value + second![index]!) / 2);
  const between = gaussianOf(middle, size);
  const square = whitenBy(
    between,
    Float64Array.from(places, (place) => one.values[place]! - other.values[place]!),
  );
  if (square > 40) return 0;
  const scales = [first!, second!].map((matrix) => gaussianOf(matrix, size).logScale);
  return Math.exp(-square / 8 + (scales[0]! + scales[1]!) / 2 - between.logScale);
}
