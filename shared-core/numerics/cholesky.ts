/**
 * Cholesky's decomposition of a symmetric positive definite matrix: A = L·Lᵀ.
 *
 * @param matrix A, row by row; only its lower half is read.
 * @returns L, each row up to its diagonal, or null when A is not positive definite.
 */
export function choleskyOf(matrix: readonly (readonly number[])[]): number[][] | null {
  const lower: number[][] = [];
  for (let row = 0; row < matrix.length; row += 1) {
    const line: number[] = [];
    for (let column = 0; column <= row; column += 1) {
      let sum = matrix[row]?.[column] ?? 0;
      const other = column === row ? line : (lower[column] ?? []);
      for (let k = 0; k < column; k += 1) sum -= (line[k] ?? 0) * (other[k] ?? 0);
      if (column === row) {
        if (!(sum > 0)) return null;
        line.push(Math.sqrt(sum));
      } else {
        line.push(sum / (lower[column]?.[column] ?? 1));
      }
    }
    lower.push(line);
  }
  return lower;
}

/**
 * Replaces a vector by L⁻¹·v, whose length is the Mahalanobis distance of v under A = L·Lᵀ.
 *
 * @param lower L, as `choleskyOf` gives it.
 * @param vector In and out, at least as long as L has rows.
 * @returns The square of that length.
 */
export function whiten(lower: readonly (readonly number[])[], vector: Float64Array): number {
  let square = 0;
  for (let row = 0; row < lower.length; row += 1) {
    const line = lower[row] as readonly number[];
    let sum = vector[row] as number;
    for (let k = 0; k < row; k += 1) sum -= (line[k] as number) * (vector[k] as number);
    const own = sum / (line[row] as number);
    vector[row] = own;
    square += own * own;
  }
  return square;
}
