import type { FaultModel } from './fault-model.ts';
import { covarianceOf, gaussianOf, type Gaussian } from './gaussian.ts';
import type { Taken } from './likelihood.ts';
import type { Suspect } from './rank-causes.ts';

/** What a reading that is not taken yet would be under one suspect, given those that are. */
export interface Foreseen {
  /** ∞ is OL, NaN is not predicted. */
  readonly value: number;
  readonly sigma: number;
}

/** A suspect made ready to be asked about any reading. */
export type Foresight = (place: number) => Foreseen;

/**
 * What readings will show under a suspect, in the light of the readings taken.
 *
 * Gaussian conditioning (C. E. Rasmussen, C. K. I. Williams, "Gaussian Processes for Machine Learning", MIT Press
 * 2006, eq. A.6) on the suspect's own covariance.
 */
export function openForesight(
  { quantities }: FaultModel,
  taken: readonly Taken[],
  { fault }: Suspect,
): Foresight {
  const width = quantities.length;
  const figures = taken.filter(
    ({ place, value }) => Number.isFinite(value) && Number.isFinite(fault.values[place]!),
  );
  const places = figures.map(({ place }) => place);
  const size = places.length;
  const gaussian = gaussianOf(covarianceOf(fault.factors, fault.own, width, places), size);
  const departure = Float64Array.from(figures, ({ place, value }) => value - fault.values[place]!);
  solveLower(gaussian, departure);
  const across = new Float64Array(size);
  return (place) => {
    const value = fault.values[place]!;
    if (!Number.isFinite(value)) return { value, sigma: 0 };
    let variance = fault.own[place]!;
    for (let k = 0; k < width; k += 1) variance += fault.factors[place * width + k]! ** 2;
    places.forEach((other, index) => {
      let sum = 0;
      for (let k = 0; k < width; k += 1) {
        sum += fault.factors[place * width + k]! * fault.factors[other * width + k]!;
      }
      across[index] = sum;
    });
    solveLower(gaussian, across);
    let [shift, known] = [0, 0];
    for (let index = 0; index < size; index += 1) {
      shift += across[index]! * departure[index]!;
      known += across[index]! ** 2;
    }
    return { value: value + shift, sigma: Math.sqrt(Math.max(fault.own[place]!, variance - known)) };
  };
}

/** L·x = v in place. */
function solveLower({ size, lower }: Gaussian, vector: Float64Array): void {
  for (let row = 0; row < size; row += 1) {
    let sum = vector[row]!;
    for (let k = 0; k < row; k += 1) sum -= lower[row * size + k]! * vector[k]!;
    vector[row] = sum / lower[row * size + row]!;
  }
}

/** How much two foreseen outcomes overlap: Bhattacharyya's coefficient of one reading. */
export function outcomeOverlap(one: Foreseen, other: Foreseen): number {
  if (!Number.isFinite(one.value) || !Number.isFinite(other.value)) {
    return Object.is(one.value, other.value) ? 1 : unlikeKinds;
  }
  const square = one.sigma ** 2 + other.sigma ** 2;
  if (!(square > 0)) return one.value === other.value ? 1 : 0;
  const apart = (one.value - other.value) ** 2;
  return Math.sqrt((2 * one.sigma * other.sigma) / square) * Math.exp(-apart / (4 * square));
}

/** A figure against OL, or against what is not predicted. */
const unlikeKinds = 0.1;

/**
 * What an outcome tells about which suspect it is, in nats: a lower bound of the mutual information.
 *
 * A. Kolchinsky, B. D. Tracey, "Estimating mixture entropy with pairwise distances", Entropy 19 (2017), eq. 10 with
 * α = ½: −Σ pᵢ ln Σ pⱼ·BCᵢⱼ.
 *
 * @param chances Of the suspects, adding up to 1.
 */
export function informationOf(chances: readonly number[], outcomes: readonly Foreseen[]): number {
  return -chances.reduce((sum, chance, row) => {
    const seen = chances.reduce(
      (all, other, column) => all + other * outcomeOverlap(outcomes[row]!, outcomes[column]!),
      0,
    );
    return sum + chance * Math.log(Math.max(seen, 1e-300));
  }, 0);
}
