import type { Measure, Reading } from '../kit/kit.ts';
import { seededRandom, seedOfText } from '../numerics/random.ts';
import type { Bench } from '../prediction/bench.ts';
import { changeAt, type Response } from './response.ts';
import type { SampleBook } from './sample-book.ts';
import type { Spread } from './spread.ts';

/**
 * What a reading may be off by whatever the circuit does, to either side: last digits, contact
 * resistance, stray pick-up. V, Ω, and a share of a gain. Common practice, no source.
 */
export const readingFloors: Readonly<Record<Measure, number>> = {
  'dc volts': 0.05,
  'ac volts': 0.05,
  ohms: 0.2,
  insulation: 0,
  gain: 0,
};

/** A reading with everything that moves it. */
export interface MovedReading {
  readonly reading: Reading;
  /** In the reading's SI unit. */
  readonly value: number;
  /** Its response to each of the spreads; undefined where the circuit did not converge. */
  readonly fits: readonly (Response | undefined)[];
}

/** The draws of one quantity, one for each amplifier. */
export type DrawsOf = (spread: Spread) => Float64Array;

/** The meter's accuracy as one more quantity: the same error in every reading of the kind. */
export function meterSpread(bench: Bench, measure: Measure): Spread {
  const { dcVolts, acVolts, ohms } = bench.meter.accuracy;
  const limit = measure === 'dc volts' ? dcVolts : measure === 'ohms' ? ohms : acVolts;
  return {
    quantity: `meter ${measure}`,
    what: 'accuracy of the meter',
    low: -limit,
    high: limit,
    shape: 'flat',
    source: 'the meter as set up on the bench',
  };
}

/**
 * A reading of many random amplifiers, by its parabolas, as the meter shows it.
 *
 * @param drawsOf Where draws come from; the book's own where left out.
 */
export function drawReading(
  book: SampleBook,
  bench: Bench,
  spreads: readonly Spread[],
  { reading, value, fits }: MovedReading,
  drawsOf: DrawsOf = (spread) => book.draws(spread),
): Float64Array {
  const sum = new Float64Array(book.count).fill(value);
  spreads.forEach((spread, index) => {
    const fit = fits[index];
    if (!fit || (fit.slope === 0 && fit.curvature === 0)) return;
    const draws = drawsOf(spread);
    for (let sample = 0; sample < sum.length; sample += 1) {
      sum[sample] = (sum[sample] ?? 0) + changeAt(fit, draws[sample] ?? 0);
    }
  });
  const meter = book.draws(meterSpread(bench, reading.measure));
  const random = seededRandom((book.seed ^ seedOfText(`floor ${reading.id}`)) >>> 0);
  const floor = readingFloors[reading.measure];
  return sum.map((each, sample) => each * (1 + (meter[sample] ?? 0)) + floor * (2 * random() - 1));
}

/** Covariances of columns of equal length, in products of their units. */
export function covarianceOfColumns(columns: readonly Float64Array[]): number[][] {
  const centred = columns.map((column) => {
    const mean = meanOf(column);
    return column.map((value) => value - mean);
  });
  const matrix = columns.map(() => columns.map(() => 0));
  centred.forEach((one, row) => {
    for (let column = 0; column <= row; column += 1) {
      const other = centred[column] as Float64Array;
      let sum = 0;
      for (let sample = 0; sample < one.length; sample += 1) sum += (one[sample] ?? 0) * (other[sample] ?? 0);
      const covariance = sum / (one.length - 1);
      (matrix[row] as number[])[column] = covariance;
      (matrix[column] as number[])[row] = covariance;
    }
  });
  return matrix;
}

/** The mean of a column. */
export function meanOf(column: Float64Array): number {
  let sum = 0;
  for (const value of column) sum += value;
  return sum / column.length;
}
