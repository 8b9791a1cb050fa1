/** Sweeps after which Jacobi's method is stopped: it converges in six to ten. */
const maxSweeps = 60;

/** Eigenvalues and orthonormal eigenvectors of a symmetric matrix. */
export interface SymmetricEigen {
  readonly values: Float64Array;
  /** Column k, `vectors[row * size + k]`, belongs to `values[k]`. */
  readonly vectors: Float64Array;
}

/**
 * Eigenvalues of a symmetric matrix by Jacobi rotations.
 *
 * Rotations go on until every element is small beside the geometric mean of its two diagonals, which
 * keeps small eigenvalues of a positive matrix accurate beside large ones (J. Demmel and K. Veselić,
 * "Jacobi's method is more accurate than QR", SIAM J. Matrix Anal. 13, 1992).
 *
 * @param matrix Row-major, `size × size`; destroyed.
 */
export function solveSymmetricEigen(matrix: Float64Array, size: number): SymmetricEigen {
  const vectors = new Float64Array(size * size);
  for (let row = 0; row < size; row++) vectors[row * size + row] = 1;
  for (let sweep = 0; sweep < maxSweeps; sweep++) {
    let rotations = 0;
    for (let p = 0; p < size - 1; p++) {
      for (let q = p + 1; q < size; q++) if (rotate(matrix, vectors, size, p, q)) rotations++;
    }
    if (rotations === 0) break;
  }
  return { values: Float64Array.from({ length: size }, (_, row) => matrix[row * size + row]!), vectors };
}

function rotate(a: Float64Array, vectors: Float64Array, size: number, p: number, q: number): boolean {
  const off = a[p * size + q]!;
  const [app, aqq] = [a[p * size + p]!, a[q * size + q]!];
  if (off === 0 || Math.abs(off) <= 1e-17 * Math.sqrt(Math.abs(app * aqq))) return false;
  const theta = (aqq - app) / (2 * off);
  const t = Math.sign(theta || 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const cosine = 1 / Math.sqrt(t * t + 1);
  const sine = t * cosine;
  a[p * size + p] = app - t * off;
  a[q * size + q] = aqq + t * off;
  a[p * size + q] = 0;
  a[q * size + p] = 0;
  for (let k = 0; k < size; k++) {
    if (k !== p && k !== q) {
      const [akp, akq] = [a[k * size + p]!, a[k * size + q]!];
      a[k * size + p] = a[p * size + k] = cosine * akp - sine * akq;
      a[k * size + q] = a[q * size + k] = sine * akp + cosine * akq;
    }
    const [vkp, vkq] = [vectors[k * size + p]!, vectors[k * size + q]!];
    vectors[k * size + p] = cosine * vkp - sine * vkq;
    vectors[k * size + q] = sine * vkp + cosine * vkq;
  }
  // An angle too small to change anything counts as done, else rounding would turn for ever.
  return Math.abs(sine) > 1e-17 && app !== a[p * size + p];
}
