import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { solveComplex } from '../../../shared-core/numerics/complex-matrix.ts';
import { factorise, solveFactorised } from '../../../shared-core/numerics/dense.ts';
import { planElimination, runElimination } from '../../../shared-core/numerics/elimination-plan.ts';
import { solveTransposed } from '../../../shared-core/numerics/solve-transposed.ts';
import { solveSymmetricEigen } from '../../../shared-core/numerics/symmetric-eigen.ts';

function solveDense(matrix: readonly number[], right: readonly number[]): Float64Array | number {
  const size = right.length;
  const [factors, order] = [Float64Array.from(matrix), new Int32Array(size)];
  const failed = factorise(factors, size, order, new Float64Array(size));
  if (failed >= 0) return failed;
  const out = new Float64Array(size);
  solveFactorised(factors, size, order, Float64Array.from(right), out);
  return out;
}

/** A sparse network of conductances over eight decades, with a chain that joins everything: rows, columns, values. */
const network = fc
  .integer({ min: 2, max: 12 })
  .chain((size) =>
    fc.tuple(
      fc.constant(size),
      fc.array(fc.tuple(fc.nat(size - 1), fc.nat(size - 1), fc.double({ min: -8, max: 0, noNaN: true })), {
        maxLength: 2 * size,
      }),
      fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: size, maxLength: size }),
    ),
  )
  .map(([size, links, right]) => {
    const matrix = new Float64Array(size * size);
    const join = (a: number, b: number, siemens: number): void => {
      matrix[a * size + a]! += siemens;
      matrix[b * size + b]! += siemens;
      matrix[a * size + b]! -= siemens;
      matrix[b * size + a]! -= siemens;
    };
    for (let row = 0; row < size; row++) matrix[row * size + row]! += 1e-3;
    for (let row = 1; row < size; row++) join(row - 1, row, 1e-4);
    for (const [a, b, exponent] of links) if (a !== b) join(a, b, 10 ** exponent);
    return { size, matrix, right: Float64Array.from(right) };
  });

describe('dense factors', () => {
  it('solve a system that needs exchanged rows: [[0, 2], [3, 4]] x = [2, 10]', () => {
    expect(solveDense([0, 2, 3, 4], [2, 10])).toEqual(Float64Array.of(2, 1));
  });

  it('keep seven digits of the 6 × 6 Hilbert matrix, whose condition is 1.5e7', () => {
    const size = 6;
    const matrix = Array.from(
      { length: 36 },
      (_, place) => 1 / (Math.floor(place / size) + (place % size) + 1),
    );
    const right = Array.from({ length: size }, (_, row) =>
      matrix.slice(row * size, row * size + size).reduce((sum, each) => sum + each, 0),
    );
    for (const value of solveDense(matrix, right) as Float64Array) expect(value).toBeCloseTo(1, 7);
  });

  it('name the column at which a matrix is singular, a zero row and a NaN included', () => {
    expect(solveDense([1, 2, 2, 4], [1, 1])).toBe(1);
    expect(solveDense([0, 0, 0, 1], [1, 1])).toBe(0);
    expect(solveDense([NaN, 0, 0, 1], [1, 1])).toBe(0);
  });

  it('solve Aᵀx = b: [[1, 2], [0, 1]]ᵀ x = [1, 5] gives [1, 3]', () => {
    expect(solveTransposed(Float64Array.of(1, 2, 0, 1), 2, Float64Array.of(1, 5))).toEqual(
      Float64Array.of(1, 3),
    );
  });

  it('solve (1 + 2j) x = 5 as x = 1 − 2j', () => {
    const solved = solveComplex(Float64Array.of(1), Float64Array.of(2), 1, Float64Array.of(5, 0))!;
    expect(solved[0]).toBeCloseTo(1, 14);
    expect(solved[1]).toBeCloseTo(-2, 14);
    expect(solveComplex(Float64Array.of(0), Float64Array.of(0), 1, Float64Array.of(1, 0))).toBeNull();
  });
});

describe('elimination plan', () => {
  it('solves what the dense factors solve', () => {
    fc.assert(
      fc.property(network, ({ size, matrix, right }) => {
        expect(right).toHaveLength(size);
        const places = [...matrix.keys()].filter((place) => matrix[place] !== 0);
        const values = Float64Array.from(places, (place) => matrix[place]!);
        const rows = Int32Array.from(places, (place) => Math.floor(place / size));
        const columns = Int32Array.from(places, (place) => place % size);
        const plan = planElimination(size, rows, columns, values)!;
        const work = new Float64Array(plan.slots);
        work.set(values);
        const out = new Float64Array(size);
        expect(runElimination(plan, work, Float64Array.from(right), out)).toBe(true);
        // Residual against the largest of the terms: backward stability, a few dozen roundings. Below 1e-300
        // doubles lose digits.
        let [worst, largest] = [0, 0];
        for (let row = 0; row < size; row++) {
          let sum = -right[row]!;
          for (let column = 0; column < size; column++) {
            const term = matrix[row * size + column]! * out[column]!;
            sum += term;
            largest = Math.max(largest, Math.abs(term));
          }
          worst = Math.max(worst, Math.abs(sum));
        }
        expect(worst).toBeLessThanOrEqual(1e-14 * largest + 1e-300);
      }),
    );
  });

  it('causes no fill on a star, whichever node comes first', () => {
    const size = 20;
    const rows: number[] = [];
    const columns: number[] = [];
    for (let leaf = 0; leaf < size; leaf++) {
      rows.push(leaf);
      columns.push(leaf);
      if (leaf === 0) continue;
      rows.push(0, leaf);
      columns.push(leaf, 0);
    }
    const values = Float64Array.from(rows, (row, slot) => (row === columns[slot] ? 30 : -1));
    const plan = planElimination(size, Int32Array.from(rows), Int32Array.from(columns), values)!;
    expect(plan.slots).toBe(rows.length);
  });

  it('reports a pivot that has become useless instead of dividing by it', () => {
    const [rows, columns] = [Int32Array.of(0, 0, 1, 1), Int32Array.of(0, 1, 0, 1)];
    const plan = planElimination(2, rows, columns, Float64Array.of(4, 1, 1, 3))!;
    const out = new Float64Array(2);
    expect(runElimination(plan, Float64Array.of(0, 1, 1, 0), Float64Array.of(1, 1), out)).toBe(false);
    expect(planElimination(2, rows, columns, Float64Array.of(1, 1, 1, 1))).toBeNull();
  });
});

describe('symmetric eigenvalues', () => {
  it('are 1 and 3 for [[2, 1], [1, 2]], with orthonormal vectors', () => {
    const { values, vectors } = solveSymmetricEigen(Float64Array.of(2, 1, 1, 2), 2);
    expect([...values].sort((a, b) => a - b)).toEqual([expect.closeTo(1, 14), expect.closeTo(3, 14)]);
    expect(vectors[0]! * vectors[1]! + vectors[2]! * vectors[3]!).toBeCloseTo(0, 14);
  });

  it('are 2 − 2·cos(kπ/(n+1)) for the second difference of ten points', () => {
    const size = 10;
    const matrix = new Float64Array(size * size);
    for (let row = 0; row < size; row++) {
      matrix[row * size + row] = 2;
      if (row > 0) matrix[row * size + row - 1] = matrix[(row - 1) * size + row] = -1;
    }
    const values = [...solveSymmetricEigen(matrix, size).values].sort((a, b) => a - b);
    values.forEach((value, index) => {
      expect(value).toBeCloseTo(2 - 2 * Math.cos(((index + 1) * Math.PI) / (size + 1)), 13);
    });
  });

  it('keep a rate of 1e-2 per second exact beside one of 1e10', () => {
    // D·M·D with M = [[1, 0.5], [0.5, 1]]: the product of the eigenvalues is 0.75·d1²·d2², the sum d1² + d2².
    const [d1, d2] = [1e5, 1e-1];
    const { values } = solveSymmetricEigen(
      Float64Array.of(d1 * d1, (d1 * d2) / 2, (d1 * d2) / 2, d2 * d2),
      2,
    );
    const [small, large] = [...values].sort((a, b) => a - b) as [number, number];
    expect(Math.abs((small * large) / (0.75 * d1 * d1 * d2 * d2) - 1)).toBeLessThan(1e-12);
  });
});
