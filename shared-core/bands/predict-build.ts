import type { ChosenKit } from '../kit/chosen-kit.ts';
import { normalDraw, seededRandom, seedOfText } from '../numerics/random.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { mainsLimits } from '../prediction/mains-limits.ts';
import type { ConditionPrediction } from '../prediction/prediction.ts';
import { covarianceOfColumns, drawReading, type DrawsOf, meanOf } from './draw-readings.ts';
import { type ConditionBands, computeBands } from './predict-bands.ts';
import type { SampleBook } from './sample-book.ts';
import { SampleBook as Book } from './sample-book.ts';
import { limitDeviations, type Spread } from './spread.ts';

/**
 * How all the computed readings of a kit go together in healthy builds, whatever condition they are of.
 *
 * Values are what the meter shows: cold ohms have the ohms of the leads in them.
 */
export interface JointReadings {
  readonly ids: readonly string[];
  /** Mean of each reading over healthy builds, in its SI unit. */
  readonly centre: readonly number[];
  /** Covariance of the readings, in products of their units, without the scatter of a single look. */
  readonly covariance: readonly (readonly number[])[];
  /** Standard deviation of a single look at the meter, for each reading, in its SI unit. */
  readonly lookSigma: readonly number[];
  /** Readings of healthy builds that had no part in the covariance: one column for each reading. */
  readonly healthy: readonly Float64Array[];
}

/** Every condition of a kit, and how their readings go together. */
export interface BuildPrediction {
  readonly conditions: readonly ConditionPrediction[];
  readonly joint: JointReadings;
}

/**
 * Repeatability of one look at the meter (last digit, mains moving while probing), relative: common
 * practice, no source. Keeps a reading from being believed without limit.
 */
export const repeatability = 0.003;

/**
 * The mains moves between one condition and the next by this, one standard deviation, relative: common
 * practice, no source. It is taken out of the mains' own spread, not added to it.
 */
const mainsDriftSigma = 0.005;
/** Largest share of the mains' variance that is drawn anew for each condition. */
const mostDrift = 0.5;

/** What makes the healthy builds other ones than those of the covariance: any odd number. */
const otherSeed = 0x5bd1e995;

/**
 * Predicts every condition of a kit with bands, and the readings of all of them together.
 *
 * One amplifier is sample 17 in every condition: parts, valves, windings and meter are the same; of the
 * mains a part is drawn anew.
 *
 * @param conditions Ids; all of the kit's where left out.
 */
export function predictBuild(
  chosen: ChosenKit,
  bench: Bench,
  fitted: Fitted,
  book: SampleBook,
  conditions: readonly string[] = chosen.conditions.map(({ id }) => id),
): BuildPrediction {
  const bands = conditions.flatMap((id) => computeBands(chosen, id, bench, fitted, book) ?? []);
  return { conditions: bands.map(({ prediction }) => prediction), joint: joinReadings(bands, bench, book) };
}

/** Joins the readings of conditions that were computed. */
export function joinReadings(
  bands: readonly ConditionBands[],
  bench: Bench,
  book: SampleBook,
): JointReadings {
  const own = drawAll(bands, bench, book);
  const other = drawAll(bands, bench, new Book((book.seed ^ otherSeed) >>> 0, book.count));
  const moved = bands.flatMap((each) => each.moved);
  const shift = moved.map(({ reading }) => (reading.measure === 'ohms' ? bench.leads.ohms : 0));
  const centre = own.map((column, index) => meanOf(column) + (shift[index] ?? 0));
  const lookSigma = centre.map((value) => repeatability * Math.abs(value));
  return {
    ids: moved.map(({ reading }) => reading.id),
    ...{ centre, lookSigma },
    covariance: covarianceOfColumns(own),
    healthy: other.map((column, index) => {
      const random = seededRandom((otherSeed ^ seedOfText(`look ${moved[index]?.reading.id}`)) >>> 0);
      const [sigma, up] = [lookSigma[index] ?? 0, shift[index] ?? 0];
      return column.map((value) => value + up + sigma * normalDraw(random));
    }),
  };
}

/** Readings of every condition, one column each, with the mains a little different in each condition. */
function drawAll(bands: readonly ConditionBands[], bench: Bench, book: SampleBook): Float64Array[] {
  return bands.flatMap(({ prediction, spreads, moved }) => {
    const drawsOf = driftingMains(book, bench, prediction.condition);
    return moved.map((each) => drawReading(book, bench, spreads, each, drawsOf));
  });
}

/** Share of the mains' variance that is drawn anew for each condition. */
export function mainsDriftShare({ mains }: Bench): number {
  const sigma = mainsLimits[mains.source] / limitDeviations;
  return Math.min(mostDrift, (mainsDriftSigma / sigma) ** 2);
}

function driftingMains(book: SampleBook, bench: Bench, condition: string): DrawsOf {
  const share = mainsDriftShare(bench);
  const [common, anew] = [Math.sqrt(1 - share), Math.sqrt(share)];
  let mixed: Float64Array | null = null;
  return (spread: Spread) => {
    const plain = book.draws(spread);
    if (spread.quantity !== 'mains') return plain;
    const own = book.draws({ ...spread, quantity: `mains in ${condition}` });
    return (mixed ??= plain.map((value, sample) => common * value + anew * (own[sample] ?? 0)));
  };
}
