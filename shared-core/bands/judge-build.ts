import { choleskyOf, whiten } from '../numerics/cholesky.ts';
import { solveSymmetric } from '../numerics/solve-symmetric.ts';
import type { AcceptedReading } from './condition-on.ts';
import type { JointReadings } from './predict-build.ts';
import { quantileOfSorted } from './quantile.ts';

/** Share of healthy builds inside the limit of a whole build. */
export const healthyShare = 0.98;

/** The build as a whole, beside the verdicts of its readings. */
export interface BuildJudgement {
  readonly healthy: boolean;
  /** Mahalanobis distance of all readings taken, in standard deviations. */
  readonly distance: number;
  /** 98 of 100 healthy builds are nearer than this. */
  readonly limit: number;
  /** How many readings it rests on. */
  readonly readings: number;
  /** The reading that fits the others worst; null in a healthy build. */
  readonly standsOut: string | null;
  /** Where it lies from what all the others make of it; null in a healthy build. */
  readonly side: 'higher' | 'lower' | null;
  /** A sentence or two, as advice. */
  readonly words: string;
}

/**
 * Judges all the readings taken so far together.
 *
 * P. C. Mahalanobis, "On the generalised distance in statistics", Proc. Nat. Inst. Sci. India 2 (1936): what
 * matters is not only how far each reading is from its expectation, but whether they go together as in
 * healthy builds. The limit is not that of a normal law: it is the distance that 98 of 100 simulated healthy
 * builds keep, of the same readings, and those builds have the errors of the valve models in them, as the bands
 * do. It stands beside the verdicts of the readings and changes none.
 *
 * @param taken Readings with what the meter showed, in any order; those that the joint does not know
 *   (stated, OL, not predicted) are passed over, and of one taken twice the last counts.
 * @param labels What to call each reading in the sentence; its id otherwise.
 * @param isEachInside Whether every one of them is inside its own band: the sentence says so.
 * @returns Null where no reading is of use.
 */
export function judgeBuild(
  joint: JointReadings,
  taken: readonly AcceptedReading[],
  labels: Readonly<Record<string, string>> = {},
  isEachInside = false,
): BuildJudgement | null {
  const values = new Map(taken.map(({ id, value }) => [id, value]));
  const ids = joint.ids.filter((id) => Number.isFinite(values.get(id)));
  const scale = openBuildScale(joint, ids);
  if (!scale) return null;
  const own = scale.ids.map((id) => values.get(id) ?? 0);
  const { limit } = scale;
  const distance = scale.distanceOf(own);
  const healthy = distance <= limit;
  const misfit = healthy ? null : scale.misfitAmong(own);
  const standsOut = misfit === null ? null : (scale.ids[misfit.place] ?? null);
  const side = misfit === null ? null : misfit.sigmas > 0 ? 'higher' : 'lower';
  const figures = { healthy, distance, limit, readings: own.length, standsOut, side } as const;
  return { ...figures, words: wordsFor(figures, labels, isEachInside) };
}

/** A set of readings made ready for many builds. */
export interface BuildScale {
  /** The readings that are of use, in the order in which values are given. */
  readonly ids: readonly string[];
  readonly limit: number;
  readonly distanceOf: (values: ArrayLike<number>) => number;
  /** The reading that is farthest from what all the others make of it. */
  readonly misfitAmong: (values: ArrayLike<number>) => Misfit;
}

/** Prepares the judging of builds by some of their readings; null where none is of use. */
export function openBuildScale(joint: JointReadings, ids: readonly string[]): BuildScale | null {
  const used = joint.ids.flatMap((id, index): UsedReading[] => {
    const sigma = sigmaOf(joint, index);
    return ids.includes(id) && sigma > 0 ? [{ index, sigma, centre: joint.centre[index] ?? 0 }] : [];
  });
  const correlation = used.map((one) => used.map((other) => correlationOf(joint, one, other)));
  const lower = used.length > 0 ? choleskyOf(correlation) : null;
  if (!lower) return null;
  const departure = new Float64Array(used.length);
  const depart = (valueOf: (place: number) => number): Float64Array => {
    for (let place = 0; place < used.length; place += 1) {
      const { sigma, centre } = used[place] as UsedReading;
      departure[place] = (valueOf(place) - centre) / sigma;
    }
    return departure;
  };
  return {
    ids: used.map(({ index }) => joint.ids[index] ?? ''),
    limit: limitOf(joint, used, (valueOf) => whiten(lower, depart(valueOf))),
    distanceOf: (values) =>
      Math.sqrt(
        whiten(
          lower,
          depart((place) => values[place] ?? 0),
        ),
      ),
    misfitAmong: (values) => misfitAmong(correlation, [...depart((place) => values[place] ?? 0)]),
  };
}

/** A reading's place, and how far it is from what the others make of it, with sign, in standard deviations. */
export interface Misfit {
  readonly place: number;
  readonly sigmas: number;
}

interface UsedReading {
  readonly index: number;
  readonly sigma: number;
  readonly centre: number;
}

function sigmaOf({ covariance, lookSigma }: JointReadings, index: number): number {
  return Math.sqrt((covariance[index]?.[index] ?? 0) + (lookSigma[index] ?? 0) ** 2);
}

function correlationOf(joint: JointReadings, one: UsedReading, other: UsedReading): number {
  if (one.index === other.index) return 1;
  return (joint.covariance[one.index]?.[other.index] ?? 0) / (one.sigma * other.sigma);
}

/** The distance that 98 of 100 simulated healthy builds keep. */
function limitOf(
  { healthy }: JointReadings,
  used: readonly UsedReading[],
  squareOf: (valueOf: (place: number) => number) => number,
): number {
  const columns = used.map(({ index }) => healthy[index] as Float64Array);
  const squares = Float64Array.from({ length: columns[0]?.length ?? 0 }, (_, build) =>
    squareOf((place) => columns[place]?.[build] ?? 0),
  );
  return Math.sqrt(quantileOfSorted(squares.sort(), healthyShare));
}

function misfitAmong(correlation: readonly (readonly number[])[], departure: readonly number[]): Misfit {
  const identity = departure.map((_, row) => departure.map((__, column) => (row === column ? 1 : 0)));
  const inverse = solveSymmetric(correlation, identity) ?? identity;
  const misfits = inverse.map((line, row) => {
    const pull = line.reduce((sum, weight, column) => sum + weight * (departure[column] ?? 0), 0);
    return pull / Math.sqrt(line[row] ?? 1);
  });
  return misfits.reduce<Misfit>(
    (worst, sigmas, place) => (Math.abs(sigmas) > Math.abs(worst.sigmas) ? { place, sigmas } : worst),
    { place: 0, sigmas: 0 },
  );
}

function wordsFor(
  { healthy, readings, standsOut, side }: Omit<BuildJudgement, 'words'>,
  labels: Readonly<Record<string, string>>,
  isEachInside: boolean,
): string {
  const name = standsOut === null ? '' : (labels[standsOut] ?? standsOut);
  if (readings === 1) {
    return healthy
      ? 'One reading so far, and it is as a healthy amplifier’s.'
      : `One reading so far, and it is unlikely in a healthy amplifier: ${name} is ${side} than expected.`;
  }
  if (healthy) return `Taken together, these ${readings} readings are as a healthy amplifier’s.`;
  const lead = isEachInside
    ? `Each of these ${readings} readings is inside its band, but together they are unlikely in a healthy amplifier`
    : `Taken together, these ${readings} readings are unlikely in a healthy amplifier`;
  return `${lead}: ${name} is ${side} than the others make one expect. Of a hundred healthy amplifiers two are called so. Plug out and drained, look over the parts round that place before going on.`;
}
