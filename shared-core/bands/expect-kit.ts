import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { predictDrain } from '../prediction/predict-drain.ts';
import { predictSignal, type SignalFigures } from '../prediction/signal-figures.ts';
import type {
  ConditionPrediction,
  DrainPrediction,
  RatingFigure,
  ReadingPrediction,
  SolveFacts,
} from '../prediction/prediction.ts';
import { predictBands } from './predict-bands.ts';
import { SampleBook } from './sample-book.ts';

/** Seed of the samples that every face uses, so that all show the same band. */
export const bandSeed = 1;

/** A drain longer than this is a finding, in seconds (s): NEC 460.6(A). */
export const longestDrainSeconds = 60;

/** What `kitwright expect --json` prints. */
export interface ExpectReport {
  readonly format: 'kitwright-expect/1';
  readonly kit: string;
  readonly revision: string;
  readonly hash: string;
  readonly mainsVolts: number;
  readonly mainsHertz: number;
  readonly meter: Bench['meter']['input'];
  readonly conditions: readonly {
    readonly condition: string;
    readonly readings: readonly ReportedReading[];
    readonly ratings: readonly Pick<RatingFigure, 'part' | 'what' | 'value' | 'limit' | 'percent'>[];
    readonly solve: SolveFacts;
    /** Small-signal figures, stage by stage; only where a signal is put in. */
    readonly signal?: SignalFigures;
  }[];
}

export type ReportedReading = Pick<
  ReadingPrediction,
  | 'id'
  | 'at'
  | 'against'
  | 'measure'
  | 'unit'
  | 'predicted'
  | 'nominal'
  | 'low'
  | 'high'
  | 'stopAbove'
  | 'stopBelow'
>;

/** What `kitwright drain --json` prints. */
export interface DrainReport {
  readonly safeVolts: number;
  readonly stores: readonly {
    readonly part: string;
    readonly volts: number;
    readonly joules: number;
    readonly fastSeconds: number | null;
    readonly likelySeconds: number | null;
    readonly slowSeconds: number | null;
  }[];
}

/** A kit's expectations, as data and as the report of the command line. */
export interface KitExpectation {
  readonly predictions: readonly ConditionPrediction[];
  readonly report: ExpectReport;
  /** Small-signal figures of the conditions with a signal at the input. */
  readonly signals: ReadonlyMap<string, SignalFigures>;
  /** Ratings over 100 %: exit code 1. */
  readonly overrated: readonly (RatingFigure & { readonly condition: string })[];
  /** Conditions asked for that the kit does not have. */
  readonly unknown: readonly string[];
}

/**
 * Everything that a kit should read, with bands, on a bench.
 *
 * @param hash The kit's hash, computed by whoever read the files.
 * @param conditions Ids; all of the kit's where left out.
 */
export function expectKit(
  chosen: ChosenKit,
  bench: Bench,
  fitted: Fitted,
  hash: string,
  conditions: readonly string[] = chosen.conditions.map(({ id }) => id),
): KitExpectation {
  const book = new SampleBook(bandSeed);
  const answers = conditions.map((id) => predictBands(chosen, id, bench, fitted, book));
  const predictions = answers.flatMap((prediction) => prediction ?? []);
  const signals = new Map(
    chosen.conditions.flatMap(({ id, input }): [string, SignalFigures][] => {
      const isAsked = input === 'signal' && conditions.includes(id);
      const figures = isAsked ? predictSignal(chosen, id, bench, fitted) : null;
      return figures ? [[id, figures]] : [];
    }),
  );
  return {
    ...{ predictions, signals },
    report: {
      ...{ format: 'kitwright-expect/1', kit: chosen.id, revision: chosen.revision, hash },
      ...{ mainsVolts: bench.mains.volts, mainsHertz: bench.mains.hertz, meter: bench.meter.input },
      conditions: predictions.map((each) => reportCondition(each, signals.get(each.condition))),
    },
    overrated: predictions.flatMap(({ condition, ratings }) =>
      ratings.filter(({ percent }) => percent > 100).map((rating) => ({ ...rating, condition })),
    ),
    unknown: conditions.filter((_, index) => answers[index] === undefined),
  };
}

function reportCondition(
  { condition, readings, ratings, solve }: ConditionPrediction,
  signal: SignalFigures | undefined,
): ExpectReport['conditions'][number] {
  return {
    condition,
    readings: readings.map((reading) => ({
      ...{ id: reading.id, at: reading.at, against: reading.against, measure: reading.measure },
      ...{ unit: reading.unit, predicted: reading.predicted, nominal: reading.nominal },
      ...{ low: reading.low, high: reading.high },
      ...{ stopAbove: reading.stopAbove, stopBelow: reading.stopBelow },
    })),
    ratings: ratings.map(({ part, what, value, limit, percent }) => ({ part, what, value, limit, percent })),
    solve,
    ...(signal ? { signal } : {}),
  };
}

/** A kit's drain, as data and as the report of the command line. */
export interface KitDrain {
  readonly prediction: DrainPrediction;
  readonly report: DrainReport;
  /** Stores without a path, or slower than 60 s: exit code 1. */
  readonly findings: readonly string[];
}

/** What every store of a kit does after the plug is out. */
export function drainKit(chosen: ChosenKit, bench: Bench, fitted: Fitted): KitDrain {
  const prediction = predictDrain(chosen, bench, fitted);
  const stores = prediction.stores.map(
    ({ part, volts, joules, fastSeconds, likelySeconds, slowSeconds }) => ({
      ...{ part, volts, joules, fastSeconds, likelySeconds, slowSeconds },
    }),
  );
  return {
    prediction,
    report: { safeVolts: prediction.safeVolts, stores },
    findings: stores
      .filter(({ slowSeconds }) => slowSeconds === null || slowSeconds > longestDrainSeconds)
      .map(({ part }) => part),
  };
}
