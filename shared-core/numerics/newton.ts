/**
 * Iterations after which a step that turns back on the one before is shortened, and to what part: breaks
 * cycles. Steps that go on in one direction (down an exponential tail) stay whole.
 */
const relaxation: readonly (readonly [number, number])[] = [
  [60, 0.15],
  [30, 0.3],
  [14, 0.5],
];

/** A step turns back when the unknown that moved most moves at least this part of its last step the other way. */
const turnPart = 0.2;
/** Iterations after a turn during which steps stay short. */
const cycleLength = 3;
/** From here on every step is shortened: whatever this is, it is not converging. */
const alwaysShortAfter = 60;

/** Iterations during which x is kept where a solution can be. What has not converged by then is left alone. */
const confinedIterations = 30;

/** Below this step full steps are taken again: a cycle this small is no cycle, and quadratic convergence is wanted. */
const fullStepBelow = 0.02;

/**
 * Towards a root where the law lies flat (a power above 1) each step is the same part of the one before. Small steps
 * within these parts, alike to `likeness`, are taken to where they would end: a part r ends 1/(1 − r) steps on.
 */
const flatParts = [0.25, 0.75] as const;
const likeness = 0.02;

/** A step this small that grows no smaller, this many times running, is the rounding floor and is accepted. */
const stagnantStep = 20e-6;
const stagnantTimes = 3;
/** A step grows smaller when it is less than this part of the one before: along a law that flattens it does so slowly. */
const progressPart = 0.7;

/** A system of equations `F(x) = 0` as the iteration sees it. */
export interface NewtonProblem {
  readonly size: number;
  /**
   * Evaluates residuals and derivatives at x and keeps them.
   *
   * @returns `free`; `held` where part of the evaluation was done at another point than x, so that the
   *   next step may not count as the last; `not-finite` where a residual is not a number.
   */
  readonly assemble: (x: Float64Array) => 'free' | 'held' | 'not-finite';
  /** Writes the step −J⁻¹F of the last evaluation; false where J is singular. */
  readonly step: (into: Float64Array) => boolean;
  /** Brings x back to where a solution can be; true where it had left. A step that left is not the last. */
  readonly confine?: (x: Float64Array) => boolean;
}

export interface NewtonOptions {
  readonly maxIterations: number;
  /** Largest last step, relative to the unknown. */
  readonly relative: number;
  /** Largest last step, absolute, in the unit of the unknown. */
  readonly absolute: number;
}

export interface NewtonOutcome {
  ended: 'converged' | 'stagnated' | 'too-many' | 'singular' | 'not-finite';
  iterations: number;
}

/**
 * Newton's method with shortened steps after many iterations and acceptance at the rounding floor.
 *
 * @param x Starting point; the last iterate afterwards.
 * @param dx Scratch, as long as x.
 * @param outcome Filled, so that repeated calls allocate nothing.
 */
export function iterateNewton(
  problem: NewtonProblem,
  x: Float64Array,
  dx: Float64Array,
  options: NewtonOptions,
  outcome: NewtonOutcome,
): void {
  let stagnant = 0;
  let [at, before, sinceTurn] = [0, 0, Infinity];
  let ratio = 0;
  for (let iteration = 1; iteration <= options.maxIterations; iteration++) {
    outcome.iterations = iteration;
    const state = problem.assemble(x);
    if (state === 'not-finite') {
      outcome.ended = 'not-finite';
      return;
    }
    if (!problem.step(dx)) {
      outcome.ended = 'singular';
      return;
    }
    sinceTurn = dx[at]! * before < -turnPart * before * before ? 0 : sinceTurn + 1;
    const lastRatio = ratio;
    ratio = dx[at]! / before;
    let largest = 0;
    let isSmall = true;
    for (let index = 0; index < problem.size; index++) {
      const size = Math.abs(dx[index]!);
      if (size > largest) {
        largest = size;
        at = index;
      }
      if (!(size <= options.absolute + options.relative * Math.abs(x[index]!))) isSmall = false;
    }
    if (!(largest < Infinity)) {
      outcome.ended = 'not-finite';
      return;
    }
    const isProgress = largest < progressPart * Math.abs(before);
    before = dx[at]!;
    let part = stepPart(iteration, largest, sinceTurn);
    if (part === 1 && state === 'free' && largest < fullStepBelow) {
      part = flatStep(ratio, lastRatio);
      // What comes next says nothing about the law.
      if (part !== 1) ratio = 0;
    }
    for (let index = 0; index < problem.size; index++) x[index]! += part * dx[index]!;
    const hasLeft = iteration <= confinedIterations && (problem.confine?.(x) ?? false);
    if (state === 'held' || part !== 1 || hasLeft) {
      stagnant = 0;
      continue;
    }
    stagnant = largest < stagnantStep && !isProgress ? stagnant + 1 : 0;
    if (isSmall || stagnant >= stagnantTimes) {
      outcome.ended = isSmall ? 'converged' : 'stagnated';
      return;
    }
  }
  outcome.ended = 'too-many';
}

function stepPart(iteration: number, largest: number, sinceTurn: number): number {
  const isCycle = sinceTurn <= cycleLength || iteration > alwaysShortAfter;
  if (!isCycle || largest < fullStepBelow) return 1;
  for (const [after, part] of relaxation) if (iteration > after) return part;
  return 1;
}

/** How many steps towards a flat root are taken in one. */
function flatStep(ratio: number, lastRatio: number): number {
  const isFlat = ratio > flatParts[0] && ratio < flatParts[1] && Math.abs(ratio - lastRatio) < likeness;
  return isFlat ? 1 / (1 - ratio) : 1;
}
