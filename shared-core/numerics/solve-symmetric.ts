import { choleskyOf } from './cholesky.ts';

/**
 * Solves A·X = B for a symmetric positive definite A by Cholesky's decomposition.
 *
 * @param matrix A, row by row.
 * @param rightSides B, row by row: one column for each right side.
 * @returns X in the shape of B, or null when A is not positive definite.
 */
export function solveSymmetric(
  matrix: readonly (readonly number[])[],
  rightSides: readonly (readonly number[])[],
): number[][] | null {
  const lower = choleskyOf(matrix);
  return lower && substitute(lower, rightSides);
}

function substitute(
  lower: readonly (readonly number[])[],
  rightSides: readonly (readonly number[])[],
): number[][] {
  const size = lower.length;
  const result = rightSides.map((row) => [...row]);
  const columns = rightSides[0]?.length ?? 0;
  for (let column = 0; column < columns; column += 1) {
    for (let row = 0; row < size; row += 1) {
      let sum = result[row]?.[column] ?? 0;
      for (let k = 0; k < row; k += 1) sum -= (lower[row]?.[k] ?? 0) * (result[k]?.[column] ?? 0);
      (result[row] as number[])[column] = sum / (lower[row]?.[row] ?? 1);
    }
    for (let row = size - 1; row >= 0; row -= 1) {
      let sum = result[row]?.[column] ?? 0;
      for (let k = row + 1; k < size; k += 1) sum -= (lower[k]?.[row] ?? 0) * (result[k]?.[column] ?? 0);
      (result[row] as number[])[column] = sum / (lower[row]?.[row] ?? 1);
    }
  }
  return result;
}
