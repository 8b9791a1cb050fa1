import { drawReading, meterSpread, type MovedReading } from '../bands/draw-readings.ts';
import { covarianceOfColumns } from '../bands/draw-readings.ts';
import { bandSeed } from '../bands/expect-kit.ts';
import { computeBands } from '../bands/predict-bands.ts';
import { repeatability } from '../bands/predict-build.ts';
import { changeAt, type Response } from '../bands/response.ts';
import { SampleBook } from '../bands/sample-book.ts';
import type { Spread } from '../bands/spread.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import { asInKit } from '../prediction/nominal-bench.ts';
import type { Bench } from '../prediction/bench.ts';
import { fitParameters, type FleetParameter, type FoundChange } from './fit-parameters.ts';
import { bandSigmas } from './reading-tally.ts';
import { fewestBuilds, outlierSigmas, robustMean } from './tally.ts';

/** What a fleet says of one reading: its robust mean, in standard deviations from the middle of the band. */
export interface FleetMean {
  readonly id: string;
  readonly mean: number;
  /** Builds that the mean is taken over. */
  readonly count: number;
}

/** What would have to be different for the fleet to read as it does. */
export interface FleetExplanation {
  readonly found: readonly FoundChange[];
  /** Readings that stay off by more than the limit, in standard deviations of their mean. */
  readonly leftOver: readonly { readonly id: string; readonly sigmas: number }[];
  /** Readings that had a part in it, and parameters that were tried. */
  readonly readings: number;
  readonly parameters: number;
  /** Standard deviations from which on something is a finding: 1 % for all parameters and readings together. */
  readonly limit: number;
  readonly before: number;
  readonly after: number;
  /** How it was computed, in sentences. */
  readonly method: readonly string[];
}

/**
 * What the parabolas leave out of a mean (two quantities at once, skew of the robust mean), in standard deviations
 * of the reading. Our own figure; it does not fall with the number of builds.
 */
const leftOutSigmas = 0.03;

/**
 * The parameter changes that would explain a fleet, with the kit at hand.
 *
 * What differs from build to build (parts, valves, mains, meter) averages out with their number; what is common to
 * the fleet does not: a part bought off its value, a winding, the model of a valve type. So the covariance of the
 * means is that of healthy builds with the models held at nominal, divided by the builds; and each parameter, the
 * models too, is tried as a common change. The middle that a healthy fleet would have is computed from the same
 * random amplifiers, by the same robust mean.
 */
export function explainFleet(
  chosen: ChosenKit,
  bench: Bench,
  means: readonly FleetMean[],
): FleetExplanation | null {
  const healthy = healthyFleet(chosen, bench);
  const known = healthy.readings.flatMap((reading) => {
    const mean = means.find(({ id, count }) => id === reading.id && count >= fewestBuilds);
    return mean ? [{ ...reading, mean }] : [];
  });
  if (known.length === 0) return null;
  const columns = known.map(({ column }) => column);
  const plain = covarianceOfColumns(columns);
  const covariance = known.map((one, row) =>
    known.map((other, column) => {
      const own = (plain[row]?.[column] ?? 0) / Math.max(one.mean.count, other.mean.count);
      return row === column ? own + one.lookVariance / one.mean.count + leftOutSigmas ** 2 : own;
    }),
  );
  const parameters = healthy.quantities.flatMap((spread): FleetParameter[] => {
    const fits = known.map(({ responses, sigma }) => ({ fit: responses.get(spread.quantity), sigma }));
    const change = (size: number): readonly number[] =>
      fits.map(({ fit, sigma }) => (fit ? changeAt(fit, size) / sigma : 0));
    return change(0.01).some((each) => Math.abs(each) > 1e-6)
      ? [{ quantity: spread.quantity, what: spread.what, change }]
      : [];
  });
  const off = known.map(({ mean, centre }) => mean.mean - centre);
  const fit = fitParameters(off, covariance, parameters);
  if (!fit) return null;
  const { found, limit, before, after } = fit;
  return {
    ...{ found, limit, before, after, readings: known.length, parameters: parameters.length, method },
    leftOver: fit.leftOver.flatMap((sigmas, index) =>
      Math.abs(sigmas) > limit ? [{ id: known[index]?.id ?? '', sigmas }] : [],
    ),
  };
}

const method: readonly string[] = [
  `Means leave out builds further than ${outlierSigmas} standard deviations from the median: errors of single builders.`,
  'Each parameter is fitted by generalised least squares under the covariance of healthy builds over their number.',
  'A finding is beyond what chance shows once in a hundred fleets over all parameters and readings together (Bonferroni).',
  'Parameters whose directions have a cosine of 0.9 or more cannot be told apart by these readings and are named together.',
];

interface HealthyReading {
  readonly id: string;
  /** One standard deviation of the band, in the reading's unit. */
  readonly sigma: number;
  /** Robust mean of healthy builds, and every drawn build, in standard deviations from the band's middle. */
  readonly centre: number;
  readonly column: Float64Array;
  /** Variance of a single look at the meter, in the same units squared. */
  readonly lookVariance: number;
  readonly responses: ReadonlyMap<string, Response>;
}

interface HealthyFleet {
  readonly readings: readonly HealthyReading[];
  readonly quantities: readonly Spread[];
}

/** Healthy builds of a kit whose valve models are exact. */
function healthyFleet(chosen: ChosenKit, bench: Bench): HealthyFleet {
  const book = new SampleBook(bandSeed);
  const quantities = new Map<string, Spread>();
  const types = new Set(chosen.parts.flatMap((part) => (part.kind === 'valve' ? [`${part.type}.`] : [])));
  const isModel = ({ quantity }: Spread): boolean => [...types].some((type) => quantity.startsWith(type));
  const readings = chosen.conditions.flatMap(({ id: condition }) => {
    const bands = computeBands(chosen, condition, bench, asInKit, book);
    if (!bands) return [];
    for (const spread of bands.spreads) quantities.set(spread.quantity, spread);
    return bands.moved.flatMap((moved): HealthyReading[] => {
      const meter = meterSpread(bench, moved.reading.measure);
      quantities.set(meter.quantity, meter);
      const band = bands.prediction.readings.find(({ id }) => id === moved.reading.id);
      if (!band || band.low === null || band.high === null || !(band.high > band.low)) return [];
      const [middle, sigma] = [(band.low + band.high) / 2, (band.high - band.low) / (2 * bandSigmas)];
      const fits = moved.fits.map((fit, index) => {
        const spread = bands.spreads[index];
        return spread && isModel(spread) ? undefined : fit;
      });
      const plain: MovedReading = { ...moved, fits };
      const column = drawReading(book, bench, bands.spreads, plain).map((value) => (value - middle) / sigma);
      const centre = robustMean(
        [...column].map((value): [number, number] => [value, 1]).sort((a, b) => a[0] - b[0]),
      );
      const clip = (value: number): number => {
        const apart = value - (centre?.mean ?? 0);
        return Math.min(Math.max(apart, -outlierSigmas), outlierSigmas);
      };
      const responses = new Map<string, Response>([[meter.quantity, { slope: moved.value, curvature: 0 }]]);
      moved.fits.forEach((fit, index) => {
        const spread = bands.spreads[index];
        if (fit && spread) responses.set(spread.quantity, fit);
      });
      return [
        {
          ...{ id: moved.reading.id, sigma, responses, column: column.map(clip) },
          centre: centre?.mean ?? 0,
          lookVariance: ((repeatability * moved.value) / sigma) ** 2,
        },
      ];
    });
  });
  return { readings, quantities: [...quantities.values()] };
}
