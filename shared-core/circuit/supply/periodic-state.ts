import { factorise, solveFactorised } from '../../numerics/dense.ts';

/** Something that runs over one mains period and comes back to where it was when it is periodic. */
export interface PeriodicSystem {
  /** Size of each unknown, in its own unit: what differences and gaps are measured by. */
  readonly scales: Float64Array;
  /** Gap of each unknown after one period from `start` into `gaps`; false where the run failed. */
  readonly run: (start: Float64Array, gaps: Float64Array) => boolean;
}

/** Step of the difference quotients, relative to the scales: far above the noise of the integration. */
const differenceStep = 1e-5;
/** Periodic to this, relative to the scales: a little above the noise of the integration. */
const periodTolerance = 3e-9;
const mostRounds = 30;
/** Longest move in one round, relative to the scales. */
const longestMove = 0.3;
/** Broyden's updates are trusted while each round takes the gap down to at most this share. */
const goodProgress = 0.3;

/**
 * The start of a periodic steady state, by shooting: Newton's method on the gap after one period.
 *
 * The derivatives are difference quotients, kept up by Broyden's rank-one updates (C. G. Broyden,
 * Math. Comp. 19, 1965, 577–593) while they serve and taken afresh where they do not.
 *
 * @param guess Where to begin; left alone.
 * @returns The start, or null where none was found.
 */
export function findPeriodicStart(system: PeriodicSystem, guess: Float64Array): Float64Array | null {
  const size = guess.length;
  const { scales } = system;
  const x = Float64Array.from(guess);
  const gaps = new Float64Array(size);
  if (!system.run(x, gaps)) return null;
  let worst = largest(gaps, scales);
  let jacobian: Float64Array | null = null;
  let isFresh = false;
  let best: { readonly x: Float64Array; readonly worst: number } = { x: Float64Array.from(x), worst };
  for (let round = 0; round < mostRounds; round++) {
    if (worst < periodTolerance) return x;
    if (jacobian === null) {
      jacobian = differentiate(system, x, gaps);
      if (!jacobian) return null;
      isFresh = true;
    }
    const move = solve(jacobian, gaps);
    if (!move) return null;
    const shorten = Math.min(1, longestMove / largest(move, scales));
    const before = Float64Array.from(gaps);
    for (let index = 0; index < size; index++) {
      move[index]! *= shorten;
      x[index]! += move[index]!;
    }
    if (!system.run(x, gaps)) return null;
    const now = largest(gaps, scales);
    if (now < best.worst) best = { x: Float64Array.from(x), worst: now };
    // Rounding of the integration: a fresh matrix that no longer helps has done what can be done.
    else if (isFresh && best.worst < 30 * periodTolerance) return best.x;
    if (now > goodProgress * worst) jacobian = null;
    else {
      update(jacobian, move, before, gaps, scales);
      isFresh = false;
    }
    worst = now;
  }
  return null;
}

function largest(values: Float64Array, scales: Float64Array): number {
  let worst = 0;
  for (let index = 0; index < values.length; index++) {
    worst = Math.max(worst, Math.abs(values[index]! / scales[index]!));
  }
  return worst;
}

function differentiate(system: PeriodicSystem, x: Float64Array, gaps: Float64Array): Float64Array | null {
  const size = x.length;
  const jacobian = new Float64Array(size * size);
  const moved = Float64Array.from(x);
  const after = new Float64Array(size);
  for (let column = 0; column < size; column++) {
    const step = differenceStep * system.scales[column]!;
    moved[column] = x[column]! + step;
    if (!system.run(moved, after)) return null;
    for (let row = 0; row < size; row++) {
      jacobian[row * size + column] = (after[row]! - gaps[row]!) / step;
    }
    moved[column] = x[column]!;
  }
  return jacobian;
}

/** The move that takes the gaps to zero; null where the matrix is singular. */
function solve(jacobian: Float64Array, gaps: Float64Array): Float64Array | null {
  const size = gaps.length;
  const order = new Int32Array(size);
  const matrix = Float64Array.from(jacobian);
  const move = new Float64Array(size);
  if (factorise(matrix, size, order, new Float64Array(size)) >= 0) return null;
  solveFactorised(
    matrix,
    size,
    order,
    gaps.map((gap) => -gap),
    move,
  );
  return move.every((value) => Math.abs(value) < Infinity) ? move : null;
}

function update(
  jacobian: Float64Array,
  move: Float64Array,
  before: Float64Array,
  after: Float64Array,
  scales: Float64Array,
): void {
  const size = move.length;
  let length = 0;
  for (let index = 0; index < size; index++) length += (move[index]! / scales[index]!) ** 2;
  if (length === 0) return;
  for (let row = 0; row < size; row++) {
    let lack = after[row]! - before[row]!;
    for (let column = 0; column < size; column++) lack -= jacobian[row * size + column]! * move[column]!;
    for (let column = 0; column < size; column++) {
      jacobian[row * size + column]! += (lack * move[column]!) / (scales[column]! ** 2 * length);
    }
  }
}
