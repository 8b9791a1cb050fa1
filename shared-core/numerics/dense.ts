/** Smallest pivot, relative to the largest entry of its row before elimination, that is not rounding noise. */
const smallestRelativePivot = 1e-15;

/**
 * Factorises a dense square matrix in place into L and U.
 *
 * Gaussian elimination with partial pivoting; rows are compared after scaling by their largest entry,
 * since rows of siemens and rows of plain ±1 stand side by side (Golub and Van Loan, *Matrix
 * Computations*, 1996, section 3.4).
 *
 * @param matrix Row-major, `size × size`; holds L (unit diagonal) and U afterwards.
 * @param order Receives the row order, length `size`.
 * @param scale Scratch, length `size`.
 * @returns −1, or the column at which no usable pivot was left.
 */
export function factorise(
  matrix: Float64Array,
  size: number,
  order: Int32Array,
  scale: Float64Array,
): number {
  for (let row = 0; row < size; row++) {
    let largest = 0;
    for (let column = 0; column < size; column++) {
      largest = Math.max(largest, Math.abs(matrix[row * size + column]!));
    }
    // A row of zeros keeps scale 0 and is found as a missing pivot below; NaN is found the same way.
    scale[row] = largest;
    order[row] = row;
  }
  for (let step = 0; step < size; step++) {
    let best = -1;
    let bestRatio = smallestRelativePivot;
    for (let row = step; row < size; row++) {
      const ratio = Math.abs(matrix[row * size + step]!) / scale[row]!;
      if (ratio > bestRatio && ratio < Infinity) {
        bestRatio = ratio;
        best = row;
      }
    }
    if (best < 0) return step;
    if (best !== step) exchangeRows(matrix, size, best, step, order, scale);
    eliminateBelow(matrix, size, step);
  }
  return -1;
}

function exchangeRows(
  matrix: Float64Array,
  size: number,
  one: number,
  other: number,
  order: Int32Array,
  scale: Float64Array,
): void {
  for (let column = 0; column < size; column++) {
    const kept = matrix[one * size + column]!;
    matrix[one * size + column] = matrix[other * size + column]!;
    matrix[other * size + column] = kept;
  }
  const row = order[one]!;
  order[one] = order[other]!;
  order[other] = row;
  const factor = scale[one]!;
  scale[one] = scale[other]!;
  scale[other] = factor;
}

function eliminateBelow(matrix: Float64Array, size: number, step: number): void {
  const pivot = matrix[step * size + step]!;
  for (let row = step + 1; row < size; row++) {
    const entry = matrix[row * size + step]!;
    if (entry === 0) continue;
    const factor = entry / pivot;
    matrix[row * size + step] = factor;
    for (let column = step + 1; column < size; column++) {
      matrix[row * size + column]! -= factor * matrix[step * size + column]!;
    }
  }
}

/**
 * Solves `A x = b` with the factors of {@link factorise}.
 *
 * @param right b, length `size`; left unchanged.
 * @param out Receives x; must not be `right`.
 */
export function solveFactorised(
  factors: Float64Array,
  size: number,
  order: Int32Array,
  right: Float64Array,
  out: Float64Array,
): void {
  for (let row = 0; row < size; row++) {
    let sum = right[order[row]!]!;
    for (let column = 0; column < row; column++) sum -= factors[row * size + column]! * out[column]!;
    out[row] = sum;
  }
  for (let row = size - 1; row >= 0; row--) {
    let sum = out[row]!;
    for (let column = row + 1; column < size; column++) sum -= factors[row * size + column]! * out[column]!;
    out[row] = sum / factors[row * size + row]!;
  }
}
