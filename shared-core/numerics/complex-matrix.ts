import { factorise, solveFactorised } from './dense.ts';

/**
 * Solves `(A + jB)(x + jy) = p + jq` as the real system `[[A, −B], [B, A]] [x; y] = [p; q]`.
 *
 * @param real A, row-major, `size × size`; B likewise.
 * @param right p followed by q, length `2 × size`.
 * @returns x followed by y, or null where the matrix is singular.
 */
export function solveComplex(
  real: Float64Array,
  imaginary: Float64Array,
  size: number,
  right: Float64Array,
): Float64Array | null {
  const double = 2 * size;
  const matrix = new Float64Array(double * double);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      const a = real[row * size + column]!;
      const b = imaginary[row * size + column]!;
      matrix[row * double + column] = a;
      matrix[row * double + size + column] = -b;
      matrix[(size + row) * double + column] = b;
      matrix[(size + row) * double + size + column] = a;
    }
  }
  const order = new Int32Array(double);
  if (factorise(matrix, double, order, new Float64Array(double)) >= 0) return null;
  const out = new Float64Array(double);
  solveFactorised(matrix, double, order, right, out);
  return out;
}
