import { seededRandom, seedOfText } from '../numerics/random.ts';
import { drawDeviation, type Spread } from './spread.ts';

/** Samples of a band: enough for the 0.1 % tail to hold to about a tenth of a percent of the reading. */
export const bandSamples = 20000;

/** Draws of every quantity, shared by all conditions: one amplifier is sample 17 everywhere. */
export class SampleBook {
  readonly seed: number;
  readonly count: number;
  readonly #draws = new Map<string, Float64Array>();

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
}
