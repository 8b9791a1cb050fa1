import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Measure, Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { openCondition, plugVolts, type ConditionModel } from '../prediction/condition-model.ts';
import { predictNominal } from '../prediction/predict-condition.ts';
import type { ConditionPrediction, ReadingPrediction } from '../prediction/prediction.ts';
import { nominalWorld } from '../prediction/world.ts';
import {
  covarianceOfColumns,
  drawReading,
  meterSpread,
  type MovedReading,
  readingFloors,
} from './draw-readings.ts';
import { listSpreads } from './list-spreads.ts';
import { quantileOfSorted } from './quantile.ts';
import { quickReadings } from './quick-readings.ts';
import { fitResponse, type Response } from './response.ts';
import { SampleBook } from './sample-book.ts';
import { probeDeviations, type Spread } from './spread.ts';

/** Shares of healthy amplifiers below the edges of a band. */
const edges = { lowest: 0.001, low: 0.01, high: 0.99, highest: 0.999 } as const;

/** Contributors named: at most this many, none below this share of the variance. */
const mostContributors = 5;
const leastShare = 0.01;

/**
 * Predicts a condition with bands.
 *
 * Every reading is computed at two deviations of every quantity with the real circuit, which gives slope
 * and curvature; 20,000 amplifiers drawn at random go through these parabolas, and the bands are read off
 * their sorted readings. What two quantities do together beyond the sum of what each does alone is left out.
 *
 * @param book Draws, shared between conditions so that their readings belong together.
 * @returns Undefined for a condition that the kit does not have.
 */
export function predictBands(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
  book: SampleBook = new SampleBook(1),
): ConditionPrediction | undefined {
  return computeBands(chosen, conditionId, bench, fitted, book)?.prediction;
}

/** A condition's bands with what they were drawn from. */
export interface ConditionBands {
  readonly prediction: ConditionPrediction;
  readonly spreads: readonly Spread[];
  /** The readings that have a computed band. */
  readonly moved: readonly MovedReading[];
}

/** Predicts a condition with bands, and keeps how each quantity moves each reading. */
export function computeBands(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
  book: SampleBook,
): ConditionBands | undefined {
  const nominal = predictNominal(chosen, conditionId, bench, fitted);
  if (!nominal) return undefined;
  const { prediction, state, readings, stopsFor } = nominal;
  const wanted = listWanted(prediction, readings);
  if (wanted.length === 0) return { prediction, spreads: [], moved: [] };
  const { condition } = state.model;
  const model = openCondition(...([chosen, condition, bench, fitted, state.model.heat] as const), 'band');
  const responses = computeResponses(model, wanted, plugVolts(condition, bench));
  const { spreads, unverified } = listSpreads(state, responses.asked);
  const bySpread = spreads.map((spread) => responses.fit(spread));
  const moved = wanted.map(({ reading, value }, column): MovedReading => ({
    ...{ reading, value },
    fits: bySpread.map((fits) => fits[column]),
  }));
  const samples = moved.map((each) => drawReading(book, bench, spreads, each));
  const blocked = wanted.map(({ reading }) => unverifiedAt(state.model, reading, unverified));
  const banded = prediction.readings.map((reading, index): ReadingPrediction => {
    const column = wanted.findIndex((each) => each.index === index);
    const [own, drawn, why] = [moved[column], samples[column], blocked[column]];
    if (!own || !drawn) return reading;
    if (why) return { ...withoutFigure(reading), why };
    const band = edgesOf(drawn, own.value, reading.measure);
    const contributors = rankContributors(book, bench, spreads, own);
    return { ...reading, ...band, ...stopsFor(own.reading, band.lowest, band.highest), contributors };
  });
  const covariance = spreadOut(prediction.readings.length, wanted, covarianceOfColumns(samples));
  return {
    prediction: { ...prediction, readings: banded, covariance },
    ...{ spreads, moved: moved.filter((_, column) => !blocked[column]) },
  };
}

/** The readings of a condition that have a computed figure. */
export function listWanted(prediction: ConditionPrediction, readings: readonly Reading[]): readonly Wanted[] {
  return prediction.readings.flatMap(({ predicted, source, nominal: value }, index) => {
    const reading = readings[index];
    return reading && predicted === 'value' && source === 'computed' && value !== null
      ? [{ index, reading, value }]
      : [];
  });
}

/** A reading with its place in the condition's list and its nominal value. */
export interface Wanted {
  readonly index: number;
  readonly reading: Reading;
  readonly value: number;
}

interface Responses {
  readonly asked: ReadonlySet<string>;
  /** Slopes and curvatures of every wanted reading; undefined where the circuit did not converge. */
  readonly fit: (spread: Spread) => readonly (Response | undefined)[];
}

function computeResponses(model: ConditionModel, wanted: readonly Wanted[], mainsVolts: number): Responses {
  const readings = wanted.map(({ reading }) => reading);
  const base = quickReadings(model, readings, nominalWorld, mainsVolts);
  const fit: Responses['fit'] = (spread) => {
    const [first, second] = probeDeviations(spread);
    const at = (deviation: number): Float64Array =>
      quickReadings(model, readings, { [spread.quantity]: deviation }, mainsVolts).values;
    const [low, high] = [at(first), at(second)];
    return wanted.map(({ value }, column) => {
      const from = base.values[column] ?? Number.NaN;
      // The tangent's own error at nominal is taken out by scaling to the full solution.
      const scale = from !== 0 && Number.isFinite(value / from) ? value / from : 1;
      const response = fitResponse(
        from * scale,
        [first, (low[column] ?? Number.NaN) * scale],
        [second, (high[column] ?? Number.NaN) * scale],
      );
      return Number.isFinite(response.slope) && Number.isFinite(response.curvature) ? response : undefined;
    });
  };
  return { asked: base.asked, fit };
}

function edgesOf(
  drawn: Float64Array,
  nominal: number,
  measure: Measure,
): { readonly low: number; readonly high: number; readonly lowest: number; readonly highest: number } {
  const sorted = Float64Array.from(drawn).sort();
  const least = measure === 'dc volts' ? -Infinity : 0;
  const below = (share: number): number =>
    Math.max(least, Math.min(nominal, quantileOfSorted(sorted, share)));
  const above = (share: number): number => Math.max(nominal, quantileOfSorted(sorted, share));
  return {
    lowest: below(edges.lowest),
    low: below(edges.low),
    high: above(edges.high),
    highest: above(edges.highest),
  };
}

function rankContributors(
  book: SampleBook,
  bench: Bench,
  spreads: readonly Spread[],
  { reading, value, fits }: MovedReading,
): ReadingPrediction['contributors'] {
  const meter = meterSpread(bench, reading.measure);
  const parts = [
    ...spreads.map((spread, index) => ({ spread, fit: fits[index] })),
    { spread: meter, fit: { slope: value, curvature: 0 } },
  ].map(({ spread, fit }) => ({ what: spread.what, variance: fit ? spreadVariance(book, spread, fit) : 0 }));
  const total =
    readingFloors[reading.measure] ** 2 / 3 + parts.reduce((sum, { variance }) => sum + variance, 0);
  if (!(total > 0)) return [];
  return parts
    .map(({ what, variance }) => ({ what, share: variance / total }))
    .filter(({ share }) => share >= leastShare)
    .sort((one, other) => other.share - one.share)
    .slice(0, mostContributors);
}

function spreadVariance(book: SampleBook, spread: Spread, fit: Response): number {
  if (fit.slope === 0 && fit.curvature === 0) return 0;
  const { plain, mixed, square } = book.moments(spread);
  const { slope, curvature } = fit;
  return Math.max(0, slope ** 2 * plain + 2 * slope * curvature * mixed + curvature ** 2 * square);
}

function spreadOut(
  size: number,
  wanted: readonly Wanted[],
  matrix: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  const all = Array.from({ length: size }, () => Array.from({ length: size }, () => 0));
  wanted.forEach(({ index }, row) => {
    wanted.forEach(({ index: other }, column) => {
      (all[index] as number[])[other] = matrix[row]?.[column] ?? 0;
    });
  });
  return all;
}

function unverifiedAt(
  model: ConditionModel,
  reading: Reading,
  unverified: Readonly<Record<string, string>>,
): string | null {
  const { wiring } = model.context;
  const nets = [wiring.netAt(reading.at), wiring.netAt(reading.against)];
  const type = nets.map((net) => (net === wiring.reference ? undefined : unverified[net])).find(Boolean);
  return type === undefined ? null : `the model of the ${type} is not verified at this operating point`;
}

function withoutFigure(reading: ReadingPrediction): ReadingPrediction {
  return { ...reading, predicted: 'none', nominal: null, low: null, high: null, lowest: null, highest: null };
}
