/** Natural logarithm of √(2π). */
const logRootTwoPi = 0.5 * Math.log(2 * Math.PI);

/** A normal law of several readings, ready for use. */
export interface Gaussian {
  readonly size: number;
  /** Cholesky's L, row by row, `size × size`. */
  readonly lower: Float64Array;
  /** Logarithm of the determinant's root. */
  readonly logScale: number;
}

/**
 * Covariance of some readings: A·Aᵀ + own.
 *
 * @param places Rows that are wanted, in the order of the answer.
 * @returns Row by row, `places.length` squared.
 */
export function covarianceOf(
  factors: Float32Array,
  own: Float64Array,
  width: number,
  places: readonly number[],
): Float64Array {
  const size = places.length;
  const matrix = new Float64Array(size * size);
  for (let row = 0; row < size; row += 1) {
    const one = places[row]! * width;
    for (let column = 0; column <= row; column += 1) {
      const other = places[column]! * width;
      let sum = 0;
      for (let k = 0; k < width; k += 1) sum += factors[one + k]! * factors[other + k]!;
      matrix[row * size + column] = sum;
      matrix[column * size + row] = sum;
    }
    matrix[row * size + row]! += own[places[row]!]!;
  }
  return matrix;
}

/** Cholesky's decomposition of a covariance; a variance that rounding made nothing is lifted a little. */
export function gaussianOf(covariance: Float64Array, size: number): Gaussian {
  const lower = Float64Array.from(covariance);
  let logScale = 0;
  for (let row = 0; row < size; row += 1) {
    const at = row * size;
    for (let column = 0; column <= row; column += 1) {
      const other = column * size;
      let sum = lower[at + column]!;
      for (let k = 0; k < column; k += 1) sum -= lower[at + k]! * lower[other + k]!;
      if (column < row) lower[at + column] = sum / lower[other + column]!;
      else {
        const least = 1e-9 * covariance[at + row]! + 1e-30;
        lower[at + row] = Math.sqrt(Math.max(sum, least));
        logScale += Math.log(lower[at + row]!);
      }
    }
  }
  return { size, lower, logScale };
}

/** L⁻¹·v in place; the square of its length, which is that of the Mahalanobis distance. */
export function whitenBy({ size, lower }: Gaussian, vector: Float64Array): number {
  let square = 0;
  for (let row = 0; row < size; row += 1) {
    let sum = vector[row]!;
    for (let k = 0; k < row; k += 1) sum -= lower[row * size + k]! * vector[k]!;
    const own = sum / lower[row * size + row]!;
    vector[row] = own;
    square += own * own;
  }
  return square;
}

/** Logarithm of the density at a departure from the mean; the departure is whitened in place. */
export function logDensity(gaussian: Gaussian, departure: Float64Array): number {
  const square = whitenBy(gaussian, departure);
  return -0.5 * square - gaussian.logScale - gaussian.size * logRootTwoPi;
}

/** Logarithm of a sum of exponentials. */
export function logSum(values: readonly number[]): number {
  const most = Math.max(...values);
  if (!Number.isFinite(most)) return most;
  return most + Math.log(values.reduce((sum, value) => sum + Math.exp(value - most), 0));
}
