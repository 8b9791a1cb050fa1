import type { TimeProblem } from '../../numerics/runge-kutta.ts';
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

/** Sums up the harmonics of a ripple along the steps of one period: Fourier's integrals, Hermite's cubic between. */
export class HarmonicSums {
  readonly #cosines: Float64Array;
  readonly #sines: Float64Array;
  readonly #hertz: number;
  readonly #meanVolts: number;

  /** @param count How many, from the mains frequency up. */
  constructor(hertz: number, meanVolts: number, count: number) {
    [this.#hertz, this.#meanVolts] = [hertz, meanVolts];
    [this.#cosines, this.#sines] = [new Float64Array(count), new Float64Array(count)];
  }

  /** One step: its ends in seconds (s), the voltage (V) and its slope (V/s) at both. */
  add(from: number, to: number, first: number, firstSlope: number, last: number, lastSlope: number): void {
    const length = to - from;
    const turn = 2 * Math.PI * this.#hertz;
    for (let point = 0; point < 3; point++) {
      const x = points[point]!;
      const volts = hermite(x, first, length * firstSlope, last, length * lastSlope) - this.#meanVolts;
      const share = 2 * this.#hertz * length * weights[point]! * volts;
      for (let order = 1; order <= this.#cosines.length; order++) {
        const angle = order * turn * (from + x * length);
        this.#cosines[order - 1]! += share * Math.cos(angle);
        this.#sines[order - 1]! += share * Math.sin(angle);
      }
    }
  }

  get harmonics(): readonly RippleHarmonic[] {
    return [...this.#cosines].map((cosine, index) => ({
      ...{ hertz: (index + 1) * this.#hertz, cosine, sine: this.#sines[index]! },
    }));
  }
}

/**
 * The harmonics of a supply's ripple, from its periodic steady state.
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
  const sums = new HarmonicSums(problem.hertz, found.meanVolts, count);
  const state = new Float64Array(12);
  state.set(found.unknown.subarray(0, 2));
  const onStep: TimeProblem['onStep'] = (from, to, before, beforeSlopes, after, afterSlopes) =>
    sums.add(from, to, before[0]!, beforeSlopes[0]!, after[0]!, afterSlopes[0]!);
  if (!integratePeriod({ ...found.shot, maxStep: period / 200, onStep }, state, period)) return null;
  return sums.harmonics;
}

function hermite(x: number, from: number, fromSlope: number, to: number, toSlope: number): number {
  const y = 1 - x;
  return from * (1 + 2 * x) * y * y + fromSlope * x * y * y + to * x * x * (3 - 2 * x) - toSlope * x * x * y;
}
