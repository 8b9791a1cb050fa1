import { expect, test } from 'vitest';
import { integrate } from '../../../shared-core/numerics/runge-kutta.ts';

function oscillate(tolerance: number): { error: number; steps: number } {
  const state = Float64Array.of(1, 0);
  const steps = integrate(
    {
      slopesAt: (_, now, slopes) => {
        slopes[0] = now[1]!;
        slopes[1] = -now[0]!;
      },
      tolerances: Float64Array.of(tolerance, tolerance),
      maxStep: 1,
      maxSteps: 10000,
    },
    state,
    0,
    2 * Math.PI,
  );
  return { error: Math.hypot(state[0]! - 1, state[1]!), steps };
}

test('follows a circle for one turn with the error asked for', () => {
  expect(oscillate(1e-6).error).toBeLessThan(1e-5);
  expect(oscillate(1e-11).error).toBeLessThan(1e-9);
});

test('pays for a thousandth of the error with about four times the steps', () => {
  // Fifth-order pair: steps grow as tolerance^(−1/5), 1000^(1/5) = 4.
  const ratio = oscillate(1e-11).steps / oscillate(1e-8).steps;
  expect(ratio).toBeGreaterThan(3);
  expect(ratio).toBeLessThan(5);
});

test('lands on a switch, so that a kink of the slope costs no accuracy', () => {
  const kink = Math.SQRT1_2;
  const error = (withSwitch: boolean): number => {
    const state = Float64Array.of(0);
    const problem = {
      slopesAt: (time: number, _: Float64Array, slopes: Float64Array): void => {
        slopes[0] = Math.max(0, time - kink);
      },
      tolerances: Float64Array.of(1e-8),
      maxStep: 0.3,
      maxSteps: 1000,
      switches: {
        count: withSwitch ? 1 : 0,
        tolerance: 1e-14,
        at: (time: number, _: Float64Array, values: Float64Array): void => {
          if (withSwitch) values[0] = time - kink;
        },
      },
    };
    integrate(problem, state, 0, 1);
    return Math.abs(state[0]! - (1 - kink) ** 2 / 2);
  };
  // A quadratic on either side of the kink is integrated without error.
  expect(error(true)).toBeLessThan(1e-15);
  expect(error(false)).toBeGreaterThan(1e-12);
});

test('says so when the steps do not suffice', () => {
  const slopesAt = (_: number, now: Float64Array, slopes: Float64Array): void => {
    slopes[0] = -1e6 * now[0]!;
  };
  const problem = { slopesAt, tolerances: Float64Array.of(1e-9), maxStep: 1, maxSteps: 100 };
  expect(integrate(problem, Float64Array.of(1), 0, 1)).toBe(-1);
});
