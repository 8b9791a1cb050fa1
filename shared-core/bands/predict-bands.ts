import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Measure, Reading } from '../kit/kit.ts';
import { seededRandom, seedOfText } from '../numerics/random.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { openCondition, plugVolts, type ConditionModel } from '../prediction/condition-model.ts';
import { predictNominal } from '../prediction/predict-condition.ts';
import type { ConditionPrediction, ReadingPrediction } from '../prediction/prediction.ts';
import { nominalWorld } from '../prediction/world.ts';
import { listSpreads } from './list-spreads.ts';
import { quantileOfSorted } from './quantile.ts';
import { quickReadings } from './quick-readings.ts';
import { changeAt, fitResponse, type Response } from './response.ts';
import { SampleBook } from './sample-book.ts';
import { probeDeviations, type Spread } from './spread.ts';

/** Shares of healthy amplifiers below the edges of a band. */
const edges = { lowest: 0.001, low: 0.01, high: 0.99, highest: 0.999 } as const;

/**
 * What a reading may be off by whatever the circuit does, to either side: last digits, contact
 * resistance, stray pick-up. V, Ω, and a share of a gain. Common practice, no source.
 */
const floors: Readonly<Record<Measure, number>> = {
  'dc volts': 0.05,
  'ac volts': 0.05,
  ohms: 0.2,
  insulation: 0,
  gain: 0,
};

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
  const nominal = predictNominal(chosen, conditionId, bench, fitted);
  if (!nominal) return undefined;
  const { prediction, state, readings, stopsFor } = nominal;
  const wanted = prediction.readings.flatMap(({ predicted, source, nominal: value }, index) => {
    const reading = readings[index];
    return reading && predicted === 'value' && source === 'computed' && value !== null
      ? [{ index, reading, value }]
      : [];
  });
  if (wanted.length === 0) return prediction;
  const { condition } = state.model;
  const model = openCondition(...([chosen, condition, bench, fitted, state.model.heat] as const), 'band');
  const responses = computeResponses(model, wanted, plugVolts(condition, bench));
  const { spreads, unverified } = listSpreads(state, responses.asked);
  const fits = spreads.map((spread) => responses.fit(spread));
  const samples = wanted.map(({ reading, value }, column) =>
    drawReading(
      book,
      bench,
      reading,
      value,
      spreads,
      fits.map((fit) => fit[column]),
    ),
  );
  const banded = prediction.readings.map((reading, index): ReadingPrediction => {
    const column = wanted.findIndex((each) => each.index === index);
    const own = wanted[column];
    const drawn = samples[column];
    if (!own || !drawn) return reading;
    const blocked = unverifiedAt(state.model, own.reading, unverified);
    if (blocked) return { ...withoutFigure(reading), why: blocked };
    const band = edgesOf(drawn, own.value, reading.measure);
    const contributors = rankContributors(
      book,
      bench,
      own,
      spreads,
      fits.map((fit) => fit[column]),
    );
    return { ...reading, ...band, ...stopsFor(own.reading, band.lowest, band.highest), contributors };
  });
  return {
    ...prediction,
    readings: banded,
    covariance: covarianceOf(prediction.readings.length, wanted, samples),
  };
}

interface Wanted {
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

/** The meter's accuracy as one more quantity: the same error in every reading of the kind. */
function meterSpread(bench: Bench, measure: Measure): Spread {
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

function drawReading(
  book: SampleBook,
  bench: Bench,
  reading: Reading,
  nominal: number,
  spreads: readonly Spread[],
  fits: readonly (Response | undefined)[],
): Float64Array {
  const sum = new Float64Array(book.count).fill(nominal);
  spreads.forEach((spread, index) => {
    const fit = fits[index];
    if (!fit || (fit.slope === 0 && fit.curvature === 0)) return;
    const draws = book.draws(spread);
    for (let sample = 0; sample < sum.length; sample += 1) {
      sum[sample] = (sum[sample] ?? 0) + changeAt(fit, draws[sample] ?? 0);
    }
  });
  const meter = book.draws(meterSpread(bench, reading.measure));
  const random = seededRandom((book.seed ^ seedOfText(`floor ${reading.id}`)) >>> 0);
  const floor = floors[reading.measure];
  return sum.map((value, sample) => value * (1 + (meter[sample] ?? 0)) + floor * (2 * random() - 1));
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
  { reading, value }: Wanted,
  spreads: readonly Spread[],
  fits: readonly (Response | undefined)[],
): ReadingPrediction['contributors'] {
  const meter = meterSpread(bench, reading.measure);
  const parts = [
    ...spreads.map((spread, index) => ({ spread, fit: fits[index] })),
    { spread: meter, fit: { slope: value, curvature: 0 } },
  ].map(({ spread, fit }) => ({ what: spread.what, variance: fit ? spreadVariance(book, spread, fit) : 0 }));
  const total = floors[reading.measure] ** 2 / 3 + parts.reduce((sum, { variance }) => sum + variance, 0);
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

function covarianceOf(
  size: number,
  wanted: readonly Wanted[],
  samples: readonly Float64Array[],
): readonly (readonly number[])[] {
  const centred = samples.map((drawn) => {
    const mean = drawn.reduce((sum, value) => sum + value, 0) / drawn.length;
    return drawn.map((value) => value - mean);
  });
  const matrix = Array.from({ length: size }, () => Array.from({ length: size }, () => 0));
  wanted.forEach(({ index }, row) => {
    wanted.forEach(({ index: other }, column) => {
      if (column > row) return;
      const [one, two] = [centred[row] as Float64Array, centred[column] as Float64Array];
      let sum = 0;
      for (let sample = 0; sample < one.length; sample += 1) sum += (one[sample] ?? 0) * (two[sample] ?? 0);
      (matrix[index] as number[])[other] = sum / (one.length - 1);
      (matrix[other] as number[])[index] = sum / (one.length - 1);
    });
  });
  return matrix;
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
