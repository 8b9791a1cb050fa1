import { factorise, solveFactorised } from './dense.ts';

/**
 * Solves `Aᵀ x = b`.
 *
 * @param matrix A, row-major, `size × size`; left unchanged.
 * @returns x; all zeros where A is singular.
 */
export function solveTransposed(matrix: Float64Array, size: number, right: Float64Array): Float64Array {
  const transposed = new Float64Array(size * size);
  for (let row = 0; row < size; row++) {
    for (let column = 0; column < size; column++) {
      transposed[column * size + row] = matrix[row * size + column]!;
    }
  }
  const order = new Int32Array(size);
  const out = new Float64Array(size);
  if (factorise(transposed, size, order, new Float64Array(size)) >= 0) return out;
  solveFactorised(transposed, size, order, right, out);
  return out;
}
