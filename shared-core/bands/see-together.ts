import type { ConditionPrediction, ReadingPrediction } from '../prediction/prediction.ts';
import { type AcceptedReading, conditionAcross, type ConditionedReading } from './condition-on.ts';
import { type BuildJudgement, judgeBuild } from './judge-build.ts';
import { movedSentences } from './moved-sentences.ts';
import type { JointReadings } from './predict-build.ts';

/** A reading of the build that counts. */
export interface TakenReading extends AcceptedReading {
  /** As expected or borderline: only such a one says anything about the others. */
  readonly isGood: boolean;
}

/** What the good readings of the other conditions make one expect of a reading, in its SI unit. */
export interface FromOthers {
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  /** "Because B+ reads 4 % high here, expect 191 V."; null when only the width changed. */
  readonly because: string | null;
}

/** A build's readings seen together, beside their verdicts; nothing in it blocks or allows anything. */
export interface Together {
  /** Null while no reading is of use. */
  readonly judgement: BuildJudgement | null;
  /** Of each computed reading that the good ones of other conditions narrow or move: by its id. */
  readonly fromOthers: Readonly<Record<string, FromOthers>>;
  /** What the last reading moved in those still to come, of all conditions: one sentence, or none. */
  readonly moved: readonly string[];
}

/**
 * Sees all readings of a build together: the verdict on the whole, what each condition's readings make one expect
 * in the others, and what the last one moved.
 *
 * It only narrows and shifts expectations that are shown beside the bands: no stop limit and no verdict of a
 * reading comes from here.
 *
 * @param predictions Every condition, as the builder's meter shows it.
 * @param taken The readings that count, in the order in which they were taken.
 * @param labels What to call each reading; its id otherwise.
 */
export function seeTogether(
  predictions: readonly ConditionPrediction[],
  joint: JointReadings,
  taken: readonly TakenReading[],
  labels: Readonly<Record<string, string>>,
): Together {
  const isEachInside = taken.every(({ isGood }) => isGood);
  const good = taken.filter(({ isGood }) => isGood);
  const last = taken.at(-1);
  const condition = new Map(
    predictions.flatMap((each) => each.readings.map(({ id }) => [id, each.condition] as const)),
  );
  const across = (given: readonly AcceptedReading[]): readonly ConditionedReading[] =>
    conditionAcross(predictions, joint, given, labels).flat();
  const isToCome = (id: string): boolean => !taken.some((each) => each.id === id);
  return {
    judgement: judgeBuild(joint, taken, labels, isEachInside),
    fromOthers: Object.fromEntries(
      predictions.flatMap(({ condition: own, readings }) => {
        const elsewhere = good.filter(({ id }) => condition.get(id) !== own);
        if (elsewhere.length === 0) return [];
        return across(elsewhere).flatMap((each) => {
          const plain = readings.find(({ id }) => id === each.prediction.id);
          return plain ? fromOthers(plain, each) : [];
        });
      }),
    ),
    moved: last?.isGood
      ? movedSentences(across(good.slice(0, -1)), across(good), last, labels, isToCome)
      : [],
  };
}

/** A band that others leave wider than this share of itself is not worth a sentence, unless it moved. */
const narrowingWorthSaying = 0.9;

function fromOthers(
  plain: ReadingPrediction,
  { prediction, because }: ConditionedReading,
): readonly (readonly [string, FromOthers])[] {
  const { id, predicted, source, nominal, low, high } = prediction;
  if (predicted !== 'value' || source !== 'computed') return [];
  if (nominal === null || low === null || high === null) return [];
  const isNarrower =
    high - low < narrowingWorthSaying * ((plain.high ?? Infinity) - (plain.low ?? -Infinity));
  return isNarrower || because !== null ? [[id, { nominal, low, high, because }]] : [];
}
