/** Values kept one by one; beyond this many they go into bins, so that a tally never grows with the fleet. */
const mostExact = 512;

/** Width of a bin, relative to its value: a quantile read off the bins is off by half of this at most. */
const binWidth = 0.005;

/** Values smaller than this count as 0: nothing on a bench is read so finely. */
const smallest = 1e-9;

/** A value and how often it was met. */
export type Weighted = readonly [value: number, count: number];

/**
 * Values of a quantity, met in any order, in a fixed amount of memory.
 *
 * Up to 512 values are exact. More are counted in bins of equal relative width (logarithmic on both sides of
 * 0), of which there are at most a few thousand. What was added can be taken out again, so that a record that
 * turns out to be the shorter copy of another can be withdrawn.
 */
export class Tally {
  #exact: number[] | null = [];
  readonly #bins = new Map<number, number>();
  #count = 0;

  get count(): number {
    return this.#count;
  }

  /** Takes in one value; a value that is not finite is not counted. */
  add(value: number): void {
    if (!Number.isFinite(value)) return;
    this.#count += 1;
    if (this.#exact) this.#exact.push(value);
    else this.#toBin(value, 1);
    if (this.#exact && this.#exact.length > mostExact) {
      for (const each of this.#exact) this.#toBin(each, 1);
      this.#exact = null;
    }
  }

  /** Takes one value out again that was added before. */
  remove(value: number): void {
    if (!Number.isFinite(value)) return;
    this.#count -= 1;
    if (!this.#exact) return this.#toBin(value, -1);
    const at = this.#exact.indexOf(value);
    if (at !== -1) this.#exact.splice(at, 1);
  }

  /** Values in rising order with their counts; the middle of a bin stands for all in it. */
  values(): readonly Weighted[] {
    const all: Weighted[] = this.#exact
      ? this.#exact.map((value) => [value, 1])
      : [...this.#bins].filter(([, count]) => count > 0).map(([bin, count]) => [valueOf(bin), count]);
    return all.sort(([one], [other]) => one - other);
  }

  #toBin(value: number, by: number): void {
    const bin = binOf(value);
    this.#bins.set(bin, (this.#bins.get(bin) ?? 0) + by);
  }
}

const step = Math.log1p(binWidth);
const offset = Math.ceil(Math.log(1 / smallest) / step) + 1;

function binOf(value: number): number {
  const size = Math.abs(value);
  if (size < smallest) return 0;
  const bin = Math.round(Math.log(size) / step) + offset;
  return value < 0 ? -bin : bin;
}

function valueOf(bin: number): number {
  return bin === 0 ? 0 : Math.sign(bin) * Math.exp((Math.abs(bin) - offset) * step);
}

/**
 * The value below which a share of the weighted values lies, linear between neighbours.
 *
 * R. J. Hyndman, Y. Fan, "Sample Quantiles in Statistical Packages", Am. Stat. 50 (1996), type 7.
 *
 * @param values In rising order.
 * @param share 0 to 1.
 * @returns Null without values.
 */
export function quantileOf(values: readonly Weighted[], share: number): number | null {
  const count = values.reduce((sum, [, own]) => sum + own, 0);
  if (count === 0) return null;
  const place = share * (count - 1);
  const below = Math.floor(place);
  const low = valueAt(values, below);
  return low + (valueAt(values, Math.min(below + 1, count - 1)) - low) * (place - below);
}

function valueAt(values: readonly Weighted[], rank: number): number {
  let seen = 0;
  for (const [value, count] of values) {
    seen += count;
    if (rank < seen) return value;
  }
  return values.at(-1)?.[0] ?? 0;
}

/** Values further than this many standard deviations from the median are a builder's error, not the kit's. */
export const outlierSigmas = 3.5;

/** Fewer builds than this say nothing of a drift or a brand. Our own figure. */
export const fewestBuilds = 5;

/** A mean that errors of single builders do not move. */
export interface RobustMean {
  /** Values that had a part in it. */
  readonly count: number;
  readonly outliers: number;
  readonly mean: number;
  /** Standard deviation of the values that had a part in it. */
  readonly sigma: number;
}

/**
 * Mean of the values within 3.5 units of the median, the unit being the predicted standard deviation.
 *
 * A missed joint moves its reading by tens of deviations and is left out whole; of a normal distribution one
 * value in two thousand is left out, which changes the mean's variance by less than 1 %.
 */
export function robustMean(values: readonly Weighted[]): RobustMean | null {
  const median = quantileOf(values, 0.5);
  if (median === null) return null;
  let [count, sum, squares, outliers] = [0, 0, 0, 0];
  for (const [value, own] of values) {
    const apart = value - median;
    if (Math.abs(apart) > outlierSigmas) outliers += own;
    else {
      count += own;
      sum += own * apart;
      squares += own * apart * apart;
    }
  }
  const shift = sum / count;
  const variance = count > 1 ? Math.max(0, squares - count * shift * shift) / (count - 1) : 0;
  return { count, outliers, mean: median + shift, sigma: Math.sqrt(variance) };
}
