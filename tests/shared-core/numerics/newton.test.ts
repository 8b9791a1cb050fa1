import { describe, expect, it } from 'vitest';
import {
  iterateNewton,
  type NewtonOutcome,
  type NewtonProblem,
} from '../../../shared-core/numerics/newton.ts';

const options = { maxIterations: 100, relative: 1e-12, absolute: 1e-12 };

/** One equation f(x) = 0 with its derivative. */
function scalar(law: (x: number) => readonly [number, number]): NewtonProblem & { points: number[] } {
  let [value, slope] = [0, 0];
  const points: number[] = [];
  return {
    size: 1,
    points,
    assemble: (x) => {
      points.push(x[0]!);
      [value, slope] = law(x[0]!);
      return Number.isFinite(value) ? 'free' : 'not-finite';
    },
    step: (into) => {
      into[0] = -value / slope;
      return slope !== 0;
    },
  };
}

function solve(problem: NewtonProblem, from: number): NewtonOutcome & { x: number } {
  const x = Float64Array.of(from);
  const outcome: NewtonOutcome = { ended: 'too-many', iterations: 0 };
  iterateNewton(problem, x, new Float64Array(1), options, outcome);
  return { ...outcome, x: x[0]! };
}

describe('Newton iteration', () => {
  it('finds √2 and doubles its digits each time', () => {
    const problem = scalar((x) => [x * x - 2, 2 * x]);
    const { ended, iterations, x } = solve(problem, 1);
    expect(ended).toBe('converged');
    expect(x).toBeCloseTo(Math.SQRT2, 15);
    expect(iterations).toBeLessThanOrEqual(6);
    const errors = problem.points.slice(1, 5).map((each) => Math.abs(each - Math.SQRT2));
    // e' = e²/(2√2) for this equation.
    errors.slice(1, 3).forEach((error, index) => expect(error / errors[index]! ** 2).toBeCloseTo(0.354, 1));
  });

  it('breaks the cycle of arctan(x) = 0 from 3, which pure Newton diverges from', () => {
    const { ended, x } = solve(
      scalar((each) => [Math.atan(each / 3) * 9, 3 / (1 + (each / 3) ** 2)]),
      4.175,
    );
    expect(ended).toBe('converged');
    expect(Math.abs(x)).toBeLessThan(1e-9);
  });

  it('walks down an exponential tail with whole steps', () => {
    const { ended, iterations } = solve(
      scalar((x) => [Math.exp(x) - 1e-12, Math.exp(x)]),
      1,
    );
    expect(ended).toBe('converged');
    // One step for each unit of the exponent: ln(e/1e-12) = 28.6, then quadratic.
    expect(iterations).toBeLessThanOrEqual(35);
  });

  it('takes the steps towards a flat root at once', () => {
    // Plain Newton halves a double root: 17 steps from 0.01 to 1e-7, where the straight part takes over.
    const { ended, iterations, x } = solve(
      scalar((at) => (at > 0 ? [at * at + 1e-7 * at, 2 * at + 1e-7] : [1e-7 * at, 1e-7])),
      0.01,
    );
    expect(ended).toBe('converged');
    expect(Math.abs(x)).toBeLessThan(1e-12);
    expect(iterations).toBeLessThanOrEqual(8);
  });

  it('does not take small steps that go on growing smaller for the rounding floor', () => {
    // Steps towards the root at −1 are below 20 µV where the square is still all that is seen.
    const { ended, x } = solve(
      scalar((at) => (at > 0 ? [at * at + 1e-14 * (at + 1), 2 * at + 1e-14] : [1e-14 * (at + 1), 1e-14])),
      1e-5,
    );
    expect(ended).toBe('converged');
    expect(x).toBeCloseTo(-1, 9);
  });

  it('keeps to where a solution can be, and does not end with a step that left', () => {
    const bounded: NewtonProblem & { points: number[] } = {
      ...scalar((x) => [Math.atan(x - 1), 1 / (1 + (x - 1) ** 2)]),
      confine: (x) => {
        if (Math.abs(x[0]!) <= 2) return false;
        x[0] = Math.sign(x[0]!) * 2;
        return true;
      },
    };
    // From 5 the pure iteration runs away: each step is longer than the one before.
    const { ended, x } = solve(bounded, 5);
    expect(ended).toBe('converged');
    expect(x).toBeCloseTo(1, 9);
    expect(bounded.points.slice(1).every((each) => Math.abs(each) <= 2)).toBe(true);
  });

  it('tells singular, not finite and too many apart', () => {
    expect(
      solve(
        scalar(() => [1, 0]),
        1,
      ).ended,
    ).toBe('singular');
    expect(
      solve(
        scalar(() => [NaN, 1]),
        1,
      ).ended,
    ).toBe('not-finite');
    expect(
      solve(
        scalar((x) => [x * x + 1, 2 * x]),
        0.7,
      ),
    ).toMatchObject({ ended: 'too-many', iterations: 100 });
  });

  it('does not stop on a step that was held back', () => {
    let calls = 0;
    const { iterations } = solve(
      {
        size: 1,
        assemble: () => (++calls < 5 ? 'held' : 'free'),
        step: (into) => {
          into[0] = 0;
          return true;
        },
      },
      0,
    );
    expect(iterations).toBe(5);
  });
});
