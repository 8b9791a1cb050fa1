/** An initial-value problem whose state is advanced in place. */
export interface TimeProblem {
  /** Fills `slopes` with the time derivative of `state`. */
  readonly slopesAt: (time: number, state: Float64Array, slopes: Float64Array) => void;
  /** Largest error of one step for each part of the state, in its own unit. */
  readonly tolerances: Float64Array;
  readonly maxStep: number;
  readonly maxSteps: number;
  /** Functions whose zeros are kinks of the slopes: a step ends there, to within the tolerance. */
  readonly switches?: {
    readonly count: number;
    readonly at: (time: number, state: Float64Array, values: Float64Array) => void;
    readonly tolerance: number;
  };
  /** Called after each accepted step with the state and its slopes at both ends. */
  readonly onStep?: (
    from: number,
    to: number,
    before: Float64Array,
    beforeSlopes: Float64Array,
    after: Float64Array,
    afterSlopes: Float64Array,
  ) => void;
}

/** Length of the step after a switch, relative to the one that led to it: a current that rises as t^1.5 starts there. */
const afterSwitch = 0.05;

const nodes = [0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1, 1];
const stages: readonly (readonly number[])[] = [
  [0, 0, 0, 0, 0, 0],
  [1 / 5, 0, 0, 0, 0, 0],
  [3 / 40, 9 / 40, 0, 0, 0, 0],
  [44 / 45, -56 / 15, 32 / 9, 0, 0, 0],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729, 0, 0],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656, 0],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
/** Fifth order minus the embedded fourth order. */
const errorWeights = [71 / 57600, 0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40];

/**
 * Advances `state` from one time to another with the Runge–Kutta pair 5(4).
 *
 * J. R. Dormand and P. J. Prince, "A family of embedded Runge–Kutta formulae", J. Comp. Appl. Math. 6
 * (1980) 19–26. The step is cut or grown by the local error, and made to end where a switch changes its
 * sign: a kink inside a step fools the error estimate.
 *
 * @returns Accepted steps, or −1 where `maxSteps` did not suffice or the state stopped being finite.
 */
export function integrate(problem: TimeProblem, state: Float64Array, from: number, to: number): number {
  const { switches } = problem;
  const work = makeWork(problem, state.length);
  const [first, last] = [work.slopes[0]!, work.slopes[6]!];
  let time = from;
  let step = problem.maxStep / 8;
  problem.slopesAt(time, state, first);
  let accepted = 0;
  for (let tries = 0; tries < problem.maxSteps; tries++) {
    if (time >= to) return accepted;
    if (time + step >= to) step = to - time;
    tryStep(problem, work, state, time, step);
    const error = worstError(work.slopes, step, problem.tolerances);
    if (!(error < Infinity)) return -1;
    let factor = Math.min(4, Math.max(0.15, 0.9 * error ** -0.2));
    if (error <= 1) {
      if (switches) {
        switches.at(time, state, work.before);
        const flipped = landOnSwitch(problem, work, state, time, step);
        if (flipped < step) factor = afterSwitch;
        step = flipped;
      }
      const next = time + step >= to ? to : time + step;
      problem.onStep?.(time, next, state, first, work.trial, last);
      time = next;
      state.set(work.trial);
      first.set(last);
      accepted++;
    }
    step = Math.min(problem.maxStep, step * factor);
  }
  return -1;
}

/** Buffers of one integration. */
interface Work {
  readonly slopes: readonly Float64Array[];
  readonly trial: Float64Array;
  readonly before: Float64Array;
  readonly after: Float64Array;
}

function makeWork({ switches }: TimeProblem, size: number): Work {
  const count = switches?.count ?? 0;
  return {
    slopes: Array.from({ length: 7 }, () => new Float64Array(size)),
    trial: new Float64Array(size),
    before: new Float64Array(count),
    after: new Float64Array(count),
  };
}

/** One step of the fifth order into `trial`; the slopes of all stages stay in `slopes`. */
function tryStep(problem: TimeProblem, work: Work, state: Float64Array, time: number, step: number): void {
  const { slopes, trial } = work;
  for (let stage = 1; stage < 7; stage++) {
    combine(state, slopes, stages[stage]!, step, trial);
    problem.slopesAt(time + nodes[stage]! * step, trial, slopes[stage]!);
  }
}

/** Shortens the step to the first sign change of a switch (regula falsi, Illinois); returns its length. */
function landOnSwitch(
  problem: TimeProblem,
  work: Work,
  state: Float64Array,
  time: number,
  step: number,
): number {
  const { at, tolerance } = problem.switches!;
  const { before, after, trial } = work;
  let length = step;
  for (let which = 0; which < before.length; which++) {
    at(time + length, trial, after);
    let [low, lowValue, high, highValue] = [0, before[which]!, length, after[which]!];
    if (!isFlip(lowValue, highValue, tolerance)) continue;
    for (let round = 0; round < 40; round++) {
      length = low + ((high - low) * lowValue) / (lowValue - highValue);
      tryStep(problem, work, state, time, length);
      at(time + length, trial, after);
      const value = after[which]!;
      if (Math.abs(value) <= tolerance) break;
      if (value * lowValue > 0) {
        [low, lowValue] = [length, value];
        highValue /= 2;
      } else {
        [high, highValue] = [length, value];
        lowValue /= 2;
      }
    }
  }
  return length;
}

function isFlip(before: number, after: number, tolerance: number): boolean {
  return Math.abs(before) > tolerance && Math.abs(after) > tolerance && before * after < 0;
}

/**
 * `state` and the weighted slopes of six stages into `out`; those still to come have weight 0.
 *
 * Written out, here and in `worstError`: a short program runs before these loops would be compiled.
 */
function combine(
  state: Float64Array,
  slopes: readonly Float64Array[],
  weights: readonly number[],
  step: number,
  out: Float64Array,
): void {
  const [a, b, c, d, e, f] = slopes as readonly [...Six<Float64Array>, Float64Array];
  const [p, q, r, s, t, u] = weights as Six<number>;
  for (let i = 0; i < state.length; i++) {
    out[i] = state[i]! + step * (p * a[i]! + q * b[i]! + r * c[i]! + s * d[i]! + t * e[i]! + u * f[i]!);
  }
}

type Six<Item> = readonly [Item, Item, Item, Item, Item, Item];

function worstError(slopes: readonly Float64Array[], step: number, tolerances: Float64Array): number {
  const [a, , c, d, e, f, g] = slopes as readonly [...Six<Float64Array>, Float64Array];
  const [p, , r, s, t, u, v] = errorWeights as unknown as readonly [...Six<number>, number];
  let worst = 1e-8;
  for (let i = 0; i < tolerances.length; i++) {
    const sum = p * a[i]! + r * c[i]! + s * d[i]! + t * e[i]! + u * f[i]! + v * g[i]!;
    const error = Math.abs(step * sum) / tolerances[i]!;
    if (!(error <= worst)) worst = error;
  }
  return worst;
}
