import type { FaultName } from './fault.ts';
import type { GateAnswer } from './gate.ts';
import { openGate } from './gate.ts';
import type { Taken } from './likelihood.ts';
import type { ReadyModel } from './modelling.ts';
import { nextMeasurement, type Standing } from './next-measurement.ts';
import type { NextStep } from './next-step.ts';
import { type Cause, rankCauses, type RankedFault } from './rank-causes.ts';
import { type Repair, repairFirst, repairOf } from './repair.ts';
import { type RankedSlip, rankSlips } from './slips.ts';

/** What is to be explained. */
export interface ExplainQuestion {
  /** Every reading so far in the order taken: what the meter showed, in SI units; null is OL. */
  readonly taken: readonly { readonly id: string; readonly value: number | null }[];
  /** Readings that were taken again with the same result: no slip is sought there. */
  readonly checked?: readonly string[];
  /** Signs that were seen, as the app names them. */
  readonly signs?: readonly string[];
  /** Where the builder stands, and what is not to be offered. */
  readonly standing?: Standing;
}

/** A cause as it is told. */
export interface ToldCause extends Cause {
  /** "very likely", "likely", "possible", "unlikely". */
  readonly chance: string;
  /** For the likeliest of its faults; null for the last line. */
  readonly repair: Repair | null;
}

/** The answer: plain data. */
export interface Explanation {
  readonly healthy: boolean;
  /** Share of healthy builds that would be called unhealthy here. */
  readonly falseAlarmLevel: number;
  readonly distance: number;
  readonly limit: number;
  /** Likeliest first; always ends with two faults or what the model cannot see. Empty in a healthy amplifier. */
  readonly causes: readonly ToldCause[];
  readonly slips: readonly RankedSlip[];
  /** That a slip of measuring explains it, 0 to 1. */
  readonly slipProbability: number;
  readonly next: NextStep | null;
  /** What to do first, in words. */
  readonly advice: string;
  /** Readings that are not known or have no computed figure. */
  readonly unused: readonly string[];
}

/** The last line of every list. */
export const beyondWords =
  'two faults, or something this model cannot see (oscillation, arcing, leakage when hot, an error in the kit file)';

/** Above this the last line is the advice. */
const adviseFrom = 1 / 3;

/** Causes below this are not told. */
const leastTold = 0.005;

/** Gates by the readings they stand on: builds are asked about the same set again and again. */
const gates = new WeakMap<object, Map<string, ReturnType<typeof openGate>>>();

/** The gate of a set of readings. */
function gateOf({ model }: ReadyModel, places: readonly number[]): ReturnType<typeof openGate> {
  const known = gates.get(model) ?? new Map<string, ReturnType<typeof openGate>>();
  gates.set(model, known);
  const key = places.join(' ');
  const gate = known.get(key) ?? openGate(model, places);
  known.set(key, gate);
  return gate;
}

/**
 * What probably explains the readings so far, and what to do next.
 *
 * The healthy gate first; then slips of measuring against faults; then the ranked causes and the next
 * measurement. Differences between channels and matched valves are evidence of themselves: the covariance says
 * how alike they must be.
 */
export function explain(ready: ReadyModel, question: ExplainQuestion): Explanation {
  const { model } = ready;
  const place = new Map(model.readings.map(({ id }, index) => [id, index]));
  const taken: Taken[] = [];
  const unused: string[] = [];
  for (const { id, value } of question.taken) {
    const at = place.get(id);
    if (at === undefined) unused.push(id);
    else {
      // Of a reading taken twice the last counts.
      const before = taken.findIndex((each) => each.place === at);
      if (before >= 0) taken.splice(before, 1);
      taken.push({ place: at, value: value ?? Infinity });
    }
  }
  const used = taken.filter(({ place: at }) => !Number.isNaN(model.healthy.values[at]!));
  const gate = gateOf(
    ready,
    used.map(({ place: at }) => at),
  ).judge(used.map(({ value }) => value));
  const seen = question.signs ?? [];
  const common = {
    ...{ falseAlarmLevel: gate.falseAlarmLevel, distance: gate.distance, limit: gate.limit, unused },
  };
  if (gate.healthy && seen.length === 0) {
    const advice = healthyWords(gate, used.length);
    return { healthy: true, ...common, causes: [], slips: [], slipProbability: 0, next: null, advice };
  }
  const ranking = rankCauses(model, taken, seen);
  const { slips, probability } = rankSlips(model, ready.slips, taken, ranking.log, new Set(question.checked));
  const causes = [...ranking.causes.filter((cause) => cause.probability >= leastTold).map(tell(ready))];
  const last: ToldCause = {
    ...{ group: beyondWords, faults: [], probability: ranking.beyond },
    ...{ chance: chanceWords(ranking.beyond), repair: null },
  };
  const next = nextMeasurement(model, ranking, taken, question.standing ?? { condition: null });
  const advice = adviceFor(slips, probability, ranking.beyond, model.readings);
  return {
    ...{ healthy: false, ...common, causes: [...causes, last], slips, slipProbability: probability },
    ...{ next, advice },
  };
}

function tell({ model }: ReadyModel): (cause: Cause) => ToldCause {
  const known = new Map(
    model.faults.flatMap(({ fault }) => fault.faults.map((each) => [nameOf(each), each] as const)),
  );
  return (cause) => {
    const [first] = cause.faults;
    const fault = first && known.get(nameOf(first));
    return {
      ...{ ...cause, chance: chanceWords(cause.probability) },
      repair: fault ? repairOf(model.chosen, fault) : null,
    };
  };
}

function nameOf({ part, kind }: FaultName | RankedFault): string {
  return `${part} ${kind}`;
}

/** A probability in words. */
export function chanceWords(probability: number): string {
  if (probability >= 0.9) return 'very likely';
  if (probability >= 0.6) return 'likely';
  return probability >= 0.15 ? 'possible' : 'unlikely';
}

function healthyWords({ distance, limit }: GateAnswer, count: number): string {
  const figures = `distance ${distance.toFixed(1)}, limit ${limit.toFixed(1)}`;
  return `The ${count === 1 ? 'reading goes' : `${count} readings go`} together as in a healthy amplifier (${figures}).`;
}

function adviceFor(
  slips: readonly RankedSlip[],
  slipProbability: number,
  beyond: number,
  readings: readonly { readonly id: string; readonly title: string }[],
): string {
  const [slip] = slips;
  if (slip && slipProbability > 0.5) {
    const title = readings.find(({ id }) => id === slip.reading)?.title ?? slip.reading;
    return `Measure "${title}" again first: perhaps ${slip.words}.`;
  }
  return beyond > adviseFrom
    ? `${repairFirst} Look the whole amplifier over, joint by joint against the drawing, and ask the maker.`
    : `${repairFirst} Then look at the likeliest cause, or take the next measurement.`;
}
