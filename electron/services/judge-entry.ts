import { conditionOn } from '../../shared-core/bands/condition-on.ts';
import type { AcceptedReading } from '../../shared-core/bands/condition-on.ts';
import { judge } from '../../shared-core/bands/judge.ts';
import type { Judgement } from '../../shared-core/bands/judge.ts';
import { movedSentences } from '../../shared-core/bands/moved-sentences.ts';
import type { MeterEntry } from '../../shared-core/bands/verdict.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { ConditionPrediction, ReadingPrediction } from '../../shared-core/prediction/prediction.ts';
import type { ShownBand } from '../../shared-core/safety/events.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';

/** What was typed, judged against this build's expectations. */
export interface JudgedEntry {
  readonly judgement: Judgement;
  /** As the meter should show it; never narrowed by other readings. */
  readonly expectation: ReadingPrediction;
  /** The band to record; null where none belongs to the verdict. */
  readonly band: ShownBand | null;
  /** What this entry moved in the readings of its condition still to come: one sentence, or none. */
  readonly moved: readonly string[];
}

/**
 * Judges an entry.
 *
 * @param prediction The reading's condition, as the meter shows it.
 * @param stamp Now, on the host's clocks.
 */
export function judgeEntry(
  build: BuildState,
  chosen: ChosenKit,
  prediction: ConditionPrediction,
  reading: string,
  entry: MeterEntry,
  stamp: Stamp,
): JudgedEntry | null {
  const expectation = prediction.readings.find(({ id }) => id === reading);
  if (!expectation) return null;
  const others = goodReadings(build, prediction).filter(({ id }) => id !== reading);
  const labels = Object.fromEntries(chosen.readings.map(({ id, title }) => [id, title]));
  const before = conditionOn(prediction, others, labels);
  const conditioned = before.find((each) => each.prediction.id === reading)?.prediction;
  const timing = {
    secondsSinceSwitchOn: secondsLive(build, prediction.condition, stamp),
    readyAfter: chosen.conditions.find(({ id }) => id === prediction.condition)?.readyAfterSeconds ?? 0,
  };
  const judgement = judge(expectation, entry, timing, conditioned);
  const isGood = judgement.verdict === 'as expected' || judgement.verdict === 'borderline';
  const last = isGood && entry.kind === 'value' ? { id: reading, value: entry.value } : null;
  const isToCome = (id: string): boolean => build.readings[id]?.counts !== true;
  const moved =
    last === null
      ? []
      : movedSentences(before, conditionOn(prediction, [...others, last], labels), last, labels, isToCome);
  const band = judgement.verdict === 'still warming' ? null : bandOf(expectation);
  return { judgement, expectation, band, moved };
}

/** A condition's expectations after this build's good readings of it. */
export function conditionedReadings(
  build: BuildState,
  chosen: ChosenKit,
  prediction: ConditionPrediction,
): readonly ReadingPrediction[] {
  const labels = Object.fromEntries(chosen.readings.map(({ id, title }) => [id, title]));
  return conditionOn(prediction, goodReadings(build, prediction), labels).map((each) => each.prediction);
}

/** The readings of a condition that count and were good, with what the meter showed last. */
function goodReadings(build: BuildState, prediction: ConditionPrediction): readonly AcceptedReading[] {
  return prediction.readings.flatMap(({ id }) => {
    const record = build.readings[id];
    const entry = record?.entries.at(-1)?.entry;
    const isGood = record?.verdict === 'as expected' || record?.verdict === 'borderline';
    return record?.counts && isGood && entry?.kind === 'value' ? [{ id, value: entry.value }] : [];
  });
}

/** Time since the plug went in for this condition, in seconds (s); null when it is not live. */
function secondsLive({ safety }: BuildState, condition: string, stamp: Stamp): number | null {
  const { energy } = safety;
  const isLive = energy.kind === 'live' && energy.condition === condition && energy.since.run === stamp.run;
  return isLive ? (stamp.tick - energy.since.tick) / 1000 : null;
}

function bandOf({ predicted, low, nominal, high, lowest, highest }: ReadingPrediction): ShownBand | null {
  return predicted === 'value' ? { low, nominal, high, lowest, highest } : null;
}
