import type { BuilderAction, JudgedReading } from '../../shared-core/contract/calls.ts';
import type { MeterEntry } from '../../shared-core/bands/verdict.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import type { BuildEvent } from '../../shared-core/journal/build-event.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Reading } from '../../shared-core/kit/kit.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { isEntryPastStop } from '../../shared-core/safety/judge.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import type { ConditionPrediction, ReadingPrediction } from '../../shared-core/prediction/prediction.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { offeredText } from '../../shared-core/units/meter-offer.ts';
import { readMeterEntry } from '../../shared-core/units/meter-entry.ts';
import type { Unit } from '../../shared-core/units/unit.ts';
import { judgeEntry } from './judge-entry.ts';
import type { JudgedEntry } from './judge-entry.ts';

/** An event about to be written, made at the moment of writing. */
export interface Prepared {
  readonly eventAt: (stamp: Stamp) => BuildEvent;
  /** For a reading: how it was judged, once the event is made. */
  readonly judged: (build: BuildState) => JudgedReading | null;
}

/** What a reading is understood and judged with. */
export interface ReadingDesk {
  readonly chosen: ChosenKit;
  /** The build as it stands at that moment. */
  readonly build: () => BuildState;
  /** What the rules know of the build at that moment. */
  readonly facts: () => SafetyFacts;
  /** A condition's expectations as this builder's meter shows them. */
  readonly predict: (condition: string) => Promise<Result<ConditionPrediction>>;
}

type EnterReading = Extract<BuilderAction, { kind: 'enter-reading' }>;

/** Understands what was typed and gets the prediction; the judging itself waits for the moment of writing. */
export async function prepareReading(desk: ReadingDesk, action: EnterReading): Promise<Result<Prepared>> {
  const { chosen } = desk;
  const reading = chosen.readings.find(({ id }) => id === action.reading);
  if (!reading) {
    const message = `There is no reading "${action.reading}" in ${chosen.name}`;
    return fail({ code: 'call/arguments', severity: 'error', message });
  }
  if (action.instrument !== undefined && offeredText(action.instrument.reply) !== action.typed) {
    const message = 'This is not the number that the instrument sent';
    return fail({ code: 'call/arguments', severity: 'error', message, hint: 'Take it again, or type it.' });
  }
  const read = readMeterEntry(action.typed, unitOf(reading));
  if (!read.ok) {
    const { message, hint } = read;
    return fail({ code: 'call/not-understood', severity: 'error', message, hint });
  }
  const predicting = predictionOf(desk, reading);
  const stop = stopPrediction(desk, reading, read.entry);
  // Past a stop limit nobody waits for bands: they are recorded only where they are there already.
  const prediction = await (stop === null ? predicting : Promise.race([predicting, afterwards(stop)]));
  return succeed(preparedFrom(desk, action, read.entry, prediction));
}

async function predictionOf({ predict }: ReadingDesk, reading: Reading): Promise<ConditionPrediction> {
  const made = await predict(reading.in);
  const newer = !made.ok && made.problems[0].code === 'predict/replaced' ? await predict(reading.in) : made;
  return newer.ok ? newer.value : unpredicted(reading, newer.problems[0].message);
}

/** Long enough for a prediction that is remembered, far too short to be noticed, in milliseconds (ms). */
const rememberedMs = 20;

function afterwards<Value>(value: Value): Promise<Value> {
  return new Promise((resolve) => {
    setTimeout(() => resolve(value), rememberedMs);
  });
}

/** The limits alone, where the entry is past one of the rules' own; null where it is not. */
function stopPrediction(desk: ReadingDesk, reading: Reading, entry: MeterEntry): ConditionPrediction | null {
  const facts = desk.facts().readings.find(({ id }) => id === reading.id);
  if (facts === undefined || !isEntryPastStop(entry, facts)) return null;
  const { stopAbove, stopBelow } = facts;
  return unpredicted({ ...reading, stopAbove, stopBelow }, 'past a stop limit: the band was not waited for');
}

function preparedFrom(
  desk: ReadingDesk,
  action: EnterReading,
  entry: MeterEntry,
  prediction: ConditionPrediction,
): Prepared {
  const { reading, typed, by, corrects, instrument } = action;
  let last: JudgedEntry | null = null;
  return {
    eventAt: (stamp) => {
      const build = desk.build();
      last = judgeEntry(build, desk.chosen, prediction, reading, entry, stamp);
      return {
        kind: 'reading-entered',
        by,
        reading,
        entry,
        typed,
        verdict: last?.judgement.verdict ?? 'not predicted',
        band: last?.band ?? null,
        bandShownBefore: build.readings[reading]?.entries.some(({ band }) => band !== null) ?? false,
        corrects,
        ...(instrument === undefined ? {} : { instrument }),
      };
    },
    judged: (build) => (last === null ? null : answerOf(reading, last, build)),
  };
}

/** The verdict that counts is the rules' own: never milder than that of the band. */
function answerOf(
  reading: string,
  { judgement, expectation, moved }: JudgedEntry,
  build: BuildState,
): JudgedReading {
  const verdict = build.readings[reading]?.entries.at(-1)?.verdict ?? judgement.verdict;
  const words = verdict === judgement.verdict ? judgement.words : `${verdict} · ${statedWords(expectation)}`;
  return { reading, verdict, words, expectation, moved: verdict === judgement.verdict ? moved : [] };
}

function statedWords({ stopAbove, stopBelow }: ReadingPrediction): string {
  return stopAbove === null && stopBelow === null
    ? 'not what the kit asks for'
    : 'past a limit of this reading';
}

function unitOf({ measure }: Reading): Unit {
  return measure === 'gain' ? '' : measure === 'ohms' || measure === 'insulation' ? 'Ω' : 'V';
}

/** A reading whose prediction broke down: it can be taken, its stop limits hold, it is not judged. */
function unpredicted(reading: Reading, why: string): ConditionPrediction {
  const { id, at, against, measure, stopAbove, stopBelow } = reading;
  return {
    condition: reading.in,
    readings: [
      {
        ...{ id, at, against, measure, stopAbove, stopBelow, why },
        unit: unitOf(reading),
        predicted: 'none',
        source: 'computed',
        ...{ nominal: null, low: null, high: null, lowest: null, highest: null },
        probes: { red: 0, black: 0 },
        neighbours: [],
        settleSeconds: null,
        contributors: [],
      },
    ],
    ratings: [],
    netVolts: {},
    covariance: [[0]],
    solve: { converged: false, iterations: 0, residualAmps: 0 },
  };
}
