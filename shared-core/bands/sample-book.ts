import { seededRandom, seedOfText } from '../numerics/random.ts';
import { drawDeviation, type Spread } from './spread.ts';

/** Samples of a band: enough for the 0.1 % tail to hold to about a tenth of a percent of the reading. */
export const bandSamples = 20000;

/** Second moments of the draws of one quantity. */
export interface Moments {
  readonly plain: number;
  readonly mixed: number;
  readonly square: number;
}

/** Draws of every quantity, shared by all conditions: one amplifier is sample 17 everywhere. */
export class SampleBook {
  readonly seed: number;
  readonly count: number;
  readonly #draws = new Map<string, Float64Array>();
  readonly #moments = new Map<Float64Array, Moments>();

  constructor(seed: number, count = bandSamples) {
    this.seed = seed;
    this.count = count;
  }

  /** Deviations of one quantity, one for each sample. */
  draws(spread: Spread): Float64Array {
    const key = `${spread.quantity} ${spread.low} ${spread.high} ${spread.shape}`;
    const known = this.#draws.get(key);
    if (known) return known;
    const random = seededRandom((this.seed ^ seedOfText(spread.quantity)) >>> 0);
    const fresh = Float64Array.from({ length: this.count }, () => drawDeviation(spread, random));
    this.#draws.set(key, fresh);
    return fresh;
  }

  /** Variances of the deviation and of its square, and their covariance. */
  moments(spread: Spread): Moments {
    const draws = this.draws(spread);
    const known = this.#moments.get(draws);
    if (known) return known;
    const sums = [0, 0, 0, 0];
    for (const deviation of draws) {
      let power = 1;
      for (let order = 0; order < 4; order += 1) sums[order] = (sums[order] ?? 0) + (power *= deviation);
    }
    const [one = 0, two = 0, three = 0, four = 0] = sums.map((sum) => sum / draws.length);
    const fresh = { plain: two - one * one, mixed: three - one * two, square: four - two * two };
    this.#moments.set(draws, fresh);
    return fresh;
  }
}
