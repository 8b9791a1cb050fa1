import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalDraw, seededRandom, seedOfText } from '../../../shared-core/numerics/random.ts';
import { solveSymmetric } from '../../../shared-core/numerics/solve-symmetric.ts';

describe('seededRandom', () => {
  it('repeats itself for the same seed only, inside 0 to 1', () => {
    const draw = (seed: number) => {
      const random = seededRandom(seed);
      return Array.from({ length: 1000 }, () => random());
    };
    expect(draw(5)).toEqual(draw(5));
    expect(draw(5)).not.toEqual(draw(6));
    expect(draw(5).every((value) => value >= 0 && value < 1)).toBe(true);
  });

  it('fills twenty equal bins evenly', () => {
    const random = seededRandom(1);
    const bins = Array.from({ length: 20 }, () => 0);
    for (let draw = 0; draw < 100000; draw += 1) {
      const bin = Math.floor(20 * random());
      bins[bin] = (bins[bin] ?? 0) + 1;
    }
    // 5000 in each, standard deviation 69; chi squared of 19 degrees stays below 43.8 in 999 of 1000 runs.
    const chi = bins.reduce((sum, count) => sum + (count - 5000) ** 2 / 5000, 0);
    expect(chi).toBeLessThan(43.8);
  });
});

describe('normalDraw', () => {
  it('has mean 0, variance 1 and fourth moment 3', () => {
    const random = seededRandom(3);
    const draws = Array.from({ length: 50000 }, () => normalDraw(random));
    const moment = (order: number) => draws.reduce((sum, value) => sum + value ** order, 0) / draws.length;
    // Standard errors of 50,000 draws: 0.0045, 0.0063 and 0.044; four of them.
    expect(Math.abs(moment(1))).toBeLessThan(0.018);
    expect(Math.abs(moment(2) - 1)).toBeLessThan(0.026);
    expect(Math.abs(moment(4) - 3)).toBeLessThan(0.18);
  });
});

describe('seedOfText', () => {
  it('is the published FNV-1a hash', () => {
    // RFC 9923, test vectors for FNV-1a with 32 bits.
    expect(seedOfText('')).toBe(0x811c9dc5);
    expect(seedOfText('a')).toBe(0xe40c292c);
    expect(seedOfText('foobar')).toBe(0xbf9cf968);
  });
});

describe('solveSymmetric', () => {
  it('solves what was built backwards from the answer', () => {
    const size = 4;
    const number = fc.double({ min: -3, max: 3, noNaN: true });
    const row = fc.array(number, { minLength: size, maxLength: size });
    const rows = fc.array(row, { minLength: size, maxLength: size });
    fc.assert(
      fc.property(rows, row, (root, answer) => {
        // RᵀR + 1 is positive definite whatever R is.
        const matrix = root.map((_, i) =>
          root.map((__, j) =>
            root.reduce((sum, line) => sum + (line[i] ?? 0) * (line[j] ?? 0), i === j ? 1 : 0),
          ),
        );
        const right = matrix.map((line) => [
          line.reduce((sum, value, j) => sum + value * (answer[j] ?? 0), 0),
        ]);
        const solved = solveSymmetric(matrix, right)?.map(([value]) => value ?? 0) ?? [];
        solved.forEach((value, index) => expect(value).toBeCloseTo(answer[index] ?? 0, 8));
        expect(solved).toHaveLength(size);
      }),
    );
  });

  it('answers null where the matrix is not positive definite', () => {
    expect(
      solveSymmetric(
        [
          [1, 2],
          [2, 1],
        ],
        [[1], [1]],
      ),
    ).toBeNull();
  });
});
