import { choleskyOf, whiten } from '../numerics/cholesky.ts';
import { solveSymmetric } from '../numerics/solve-symmetric.ts';
import { familyLimit } from './normal-point.ts';

/** Two parameters whose directions have this cosine or more cannot be told apart, and are named together. */
export const sameDirection = 0.9;

/** Changes looked for beside one another. */
const mostChanges = 6;

/** Rounds in which directions are computed anew at the sizes found: readings are not straight lines. */
const rounds = 3;

/** Something that may be different in the whole fleet. */
export interface FleetParameter {
  readonly quantity: string;
  /** In the designer's words: "R4", "model of EL84, slope". */
  readonly what: string;
  /** Change of every reading's mean, in the units of the means, for a relative change of the parameter. */
  readonly change: (size: number) => readonly number[];
}

/** A parameter with the size that fits best. */
export interface ParameterSize {
  readonly quantity: string;
  readonly what: string;
  /** Relative to nominal: 0.08 is 8 % more. */
  readonly size: number;
  /** 95 %, to either side. */
  readonly uncertainty: number;
  /** Size over its standard deviation. */
  readonly sigmas: number;
}

/** A change that explains part of the fleet: one parameter, or several that cannot be told apart. */
export interface FoundChange {
  /** The best one first. */
  readonly group: readonly ParameterSize[];
  /** How much the weighted sum of squares falls by it. */
  readonly evidence: number;
}

/** What explains the means of a fleet. */
export interface ParameterFit {
  readonly found: readonly FoundChange[];
  /** Standard deviations from which on something is a finding. */
  readonly limit: number;
  /** Means that stay off, in standard deviations. */
  readonly leftOver: readonly number[];
  /** Weighted sum of squares before and after, with as many terms as there are means. */
  readonly before: number;
  readonly after: number;
}

/**
 * The few parameters whose change explains the means of a fleet, by generalised least squares.
 *
 * With W the inverse of the covariance of the means, a parameter of direction d has the best size
 * θ = dᵀWr / dᵀWd and the standard deviation (dᵀWd)^−½ (A. C. Aitken, "On Least Squares and Linear Combination of
 * Observations", Proc. R. Soc. Edinb. 55, 1936). The strongest is taken, then the strongest beside it, as long as
 * one is beyond `familyLimit` of all parameters and readings: Bonferroni at 1 %. All taken are then fitted
 * together. Directions with a cosine of 0.9 or more, weighted by W, are named as a group.
 *
 * @param means Deviation of each reading's mean from that of healthy amplifiers.
 * @param covariance Of these means.
 * @returns Null when the covariance is not positive definite.
 */
export function fitParameters(
  means: readonly number[],
  covariance: readonly (readonly number[])[],
  parameters: readonly FleetParameter[],
): ParameterFit | null {
  const lower = choleskyOf(covariance);
  if (!lower) return null;
  const white = (vector: readonly number[]): Float64Array => {
    const out = Float64Array.from(vector);
    whiten(lower, out);
    return out;
  };
  const limit = familyLimit(parameters.length + means.length);
  const target = white(means);
  let directions = parameters.map((each) => white(slopeOf(each, smallChange)));
  let taken: readonly number[] = [];
  let sizes: Sizes = { values: [], sigmas: [] };
  for (let round = 0; round < rounds; round += 1) {
    taken = select(target, directions, limit, taken);
    sizes = sizesOf(target, directions, taken) ?? { values: [], sigmas: [] };
    const { values } = sizes;
    directions = directions.map((old, index) => {
      const own = parameters[index];
      const place = taken.indexOf(index);
      const size = place === -1 ? 0 : (values[place] ?? 0);
      return own && size !== 0 ? white(slopeOf(own, size)) : old;
    });
  }
  sizes = sizesOf(target, directions, taken) ?? { values: [], sigmas: [] };
  const rest = residual(target, directions, taken, sizes.values);
  const found = taken.map((index) => foundChange(target, directions, taken, index, parameters));
  return {
    found: found.toSorted((one, other) => other.evidence - one.evidence),
    limit,
    leftOver: leftOver(means, covariance, parameters, taken, sizes.values),
    before: dot(target, target),
    after: dot(rest, rest),
  };
}

/** For the first look, relative. */
const smallChange = 0.01;

function slopeOf({ change }: FleetParameter, size: number): readonly number[] {
  return change(size).map((each) => each / size);
}

/** Takes the strongest parameter beside those taken, again and again; one direction is taken once. */
function select(
  target: Float64Array,
  directions: readonly Float64Array[],
  limit: number,
  before: readonly number[],
): readonly number[] {
  const taken = [...before];
  while (taken.length < mostChanges) {
    const basis = orthonormal(taken.map((index) => directions[index] ?? target));
    const rest = without(target, basis);
    let [best, strongest] = [-1, limit];
    directions.forEach((direction, index) => {
      if (taken.some((own) => cosine(directions[own] ?? direction, direction) >= sameDirection)) return;
      const own = without(direction, basis);
      const size = Math.sqrt(dot(own, own));
      const strength =
        size > 1e-9 * Math.sqrt(dot(direction, direction)) ? Math.abs(dot(own, rest)) / size : 0;
      if (strength > strongest) [best, strongest] = [index, strength];
    });
    if (best === -1) break;
    taken.push(best);
  }
  // What looked strong alone may be nothing beside a better one.
  const sizes = sizesOf(target, directions, taken);
  return sizes
    ? taken.filter((_, at) => Math.abs(sizes.values[at] ?? 0) > limit * (sizes.sigmas[at] ?? 0))
    : before;
}

interface Sizes {
  readonly values: readonly number[];
  readonly sigmas: readonly number[];
}

function sizesOf(
  target: Float64Array,
  directions: readonly Float64Array[],
  taken: readonly number[],
): Sizes | null {
  const own = taken.map((index) => directions[index] ?? target);
  const normal = own.map((one) => own.map((other) => dot(one, other)));
  const unit = own.map((_, row) => own.map((__, column) => (row === column ? 1 : 0)));
  const solved = solveSymmetric(
    normal,
    own.map((one, row) => [dot(one, target), ...(unit[row] ?? [])]),
  );
  if (!solved) return null;
  return {
    values: solved.map((row) => row[0] ?? 0),
    sigmas: solved.map((row, index) => Math.sqrt(row[index + 1] ?? 0)),
  };
}

/** One taken parameter with all that go its way, each with its own best size beside the others taken. */
function foundChange(
  target: Float64Array,
  directions: readonly Float64Array[],
  taken: readonly number[],
  chosen: number,
  parameters: readonly FleetParameter[],
): FoundChange {
  const others = taken.filter((index) => index !== chosen);
  const along = directions[chosen] ?? target;
  const group = directions.flatMap((direction, index): ParameterSize[] => {
    const own = parameters[index];
    if (!own || (index !== chosen && cosine(along, direction) < sameDirection)) return [];
    const sizes = sizesOf(target, directions, [index, ...others]);
    const [size = 0, sigma = 0] = [sizes?.values[0], sizes?.sigmas[0]];
    if (!sizes || !(sigma > 0)) return [];
    const { quantity, what } = own;
    return [{ quantity, what, size, uncertainty: 1.96 * sigma, sigmas: size / sigma }];
  });
  const ranked = group.toSorted((one, other) => Math.abs(other.sigmas) - Math.abs(one.sigmas));
  return { group: ranked, evidence: (ranked[0]?.sigmas ?? 0) ** 2 };
}

function residual(
  target: Float64Array,
  directions: readonly Float64Array[],
  taken: readonly number[],
  sizes: readonly number[],
): Float64Array {
  return target.map((value, row) =>
    taken.reduce((rest, index, at) => rest - (sizes[at] ?? 0) * (directions[index]?.[row] ?? 0), value),
  );
}

function leftOver(
  means: readonly number[],
  covariance: readonly (readonly number[])[],
  parameters: readonly FleetParameter[],
  taken: readonly number[],
  sizes: readonly number[],
): readonly number[] {
  const changes = taken.map((index, at) => parameters[index]?.change(sizes[at] ?? 0) ?? []);
  return means.map((mean, row) => {
    const rest = changes.reduce((sum, change) => sum - (change[row] ?? 0), mean);
    return rest / Math.sqrt(covariance[row]?.[row] ?? 1);
  });
}

function orthonormal(vectors: readonly Float64Array[]): readonly Float64Array[] {
  const basis: Float64Array[] = [];
  for (const vector of vectors) {
    const rest = without(vector, basis);
    const size = Math.sqrt(dot(rest, rest));
    if (size > 0) basis.push(rest.map((value) => value / size));
  }
  return basis;
}

function without(vector: Float64Array, basis: readonly Float64Array[]): Float64Array {
  let rest = vector;
  for (const one of basis) {
    const share = dot(one, rest);
    rest = rest.map((value, row) => value - share * (one[row] ?? 0));
  }
  return rest;
}

function cosine(one: Float64Array, other: Float64Array): number {
  const size = Math.sqrt(dot(one, one) * dot(other, other));
  return size > 0 ? Math.abs(dot(one, other)) / size : 0;
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let row = 0; row < one.length; row += 1) sum += (one[row] ?? 0) * (other[row] ?? 0);
  return sum;
}
