import { integratePeriod } from './mains-period.ts';
import { findPeriodicMean } from './shooting.ts';
import type { ShootingProblem } from './shooting-problem.ts';

/** One harmonic of a reservoir's ripple: cosine·cos ωt + sine·sin ωt, t from the first phase's rise through 0. */
export interface RippleHarmonic {
  readonly hertz: number;
  /** Peak volts (V). */
  readonly cosine: number;
  readonly sine: number;
}

/** Gauss's points and weights of three on 0…1: steps are an eighth of a turn of the fifth harmonic at most. */
const points = [0.5 - Math.sqrt(0.15), 0.5, 0.5 + Math.sqrt(0.15)] as const;
const weights = [5 / 18, 8 / 18, 5 / 18] as const;

/**
 * The harmonics of a supply's ripple, from its periodic steady state.
 *
 * Fourier's integrals along the steps of the integration, the voltage between them by Hermite's cubic.
 *
 * @param guessVolts Where the shooting starts, in volts (V).
 * @param count How many, from the mains frequency up.
 * @returns Null where no periodic state was found.
 */
export function rippleHarmonics(
  problem: ShootingProblem,
  guessVolts: number,
  count: number,
): readonly RippleHarmonic[] | null {
  const found = findPeriodicMean(problem, guessVolts);
  if (!found.ok) return null;
  const period = 1 / problem.hertz;
  const turn = 2 * Math.PI * problem.hertz;
  const cosines = new Float64Array(count);
  const sines = new Float64Array(count);
  const state = new Float64Array(12);
  state.set(found.unknown.subarray(0, 2));
  const onStep = (
    from: number,
    to: number,
    before: Float64Array,
    beforeSlopes: Float64Array,
    after: Float64Array,
    afterSlopes: Float64Array,
  ): void => {
    const length = to - from;
    for (let point = 0; point < 3; point++) {
      const x = points[point]!;
      const volts =
        hermite(x, before[0]!, length * beforeSlopes[0]!, after[0]!, length * afterSlopes[0]!) -
        found.meanVolts;
      const share = (2 / period) * length * weights[point]! * volts;
      for (let order = 1; order <= count; order++) {
        const angle = order * turn * (from + x * length);
        cosines[order - 1]! += share * Math.cos(angle);
        sines[order - 1]! += share * Math.sin(angle);
      }
    }
  };
  if (!integratePeriod({ ...found.shot, maxStep: period / 200, onStep }, state, period)) return null;
  return Array.from({ length: count }, (_, index) => ({
    hertz: (index + 1) * problem.hertz,
    cosine: cosines[index]!,
    sine: sines[index]!,
  }));
}

function hermite(x: number, from: number, fromSlope: number, to: number, toSlope: number): number {
  const y = 1 - x;
  return from * (1 + 2 * x) * y * y + fromSlope * x * y * y + to * x * x * (3 - 2 * x) - toSlope * x * x * y;
}
