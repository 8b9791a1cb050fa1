import type { BuiltKit } from '../../shared-core/faults/fault.ts';
import { replacePart } from '../../shared-core/faults/fault.ts';
import type { HealthyModel, ModelledFault } from '../../shared-core/faults/fault-model.ts';
import { type Gate, openGate } from '../../shared-core/faults/gate.ts';
import type { Taken } from '../../shared-core/faults/likelihood.ts';
import { FaultModelling, type ReadyModel } from '../../shared-core/faults/modelling.ts';
import { overlapLimit, overlapOf } from '../../shared-core/faults/overlap.ts';
import { rankCauses, type Ranking } from '../../shared-core/faults/rank-causes.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Part } from '../../shared-core/kit/kit.ts';
import { type Random, seededRandom } from '../../shared-core/numerics/random.ts';
import { type Bench, plainBench } from '../../shared-core/prediction/bench.ts';
import { drawWorlds, openHealthyBuilds, showOnMeter, solveBuild } from './fault-builds.ts';

/** The bench of the study: mains measured (±1 %), a 1 % meter of 10 MΩ. */
export const studyBench: Bench = { ...plainBench, mains: { volts: 230, hertz: 50, source: 'measured' } };

/** A kit made ready for the study of faults. */
export interface FaultSubject {
  readonly chosen: ChosenKit;
  readonly ready: ReadyModel;
  readonly healthy: HealthyModel;
  /** Places of the kit's own readings that are predicted, in the kit's order. */
  readonly places: readonly number[];
  /** Of each fault: whether it is visible in all readings, and in DC volts alone. */
  readonly visible: readonly { readonly all: boolean; readonly direct: boolean }[];
  readonly gateOf: (places: readonly number[]) => Gate;
}

/** Builds the model of a kit and says which faults its readings can show. */
export function openFaultSubject(chosen: ChosenKit, builds?: number): FaultSubject {
  const options = builds === undefined ? {} : { builds };
  const modelling = new FaultModelling(chosen, studyBench, { measured: {}, valves: {} }, options);
  const ready = modelling.finish();
  const healthy = modelling.healthy!;
  const { model } = ready;
  const own = new Set(chosen.readings.map(({ id }) => id));
  const places = model.readings.flatMap(({ id }, place) =>
    own.has(id) && !Number.isNaN(model.healthy.values[place]!) ? [place] : [],
  );
  const direct = places.filter((place) => model.readings[place]!.measure === 'dc volts');
  const isVisible = (fault: ModelledFault, among: readonly number[]): boolean => {
    const seen = among.filter((place) => !Number.isNaN(fault.values[place]!)).map((place) => ({ place }));
    return overlapOf(model, seen, model.healthy, fault) < overlapLimit;
  };
  const gates = new Map<string, Gate>();
  return {
    ...{ chosen, ready, healthy, places },
    visible: model.faults.map((fault) => ({
      all: isVisible(fault, places),
      direct: isVisible(fault, direct),
    })),
    gateOf: (wanted) => {
      const key = wanted.join(' ');
      const gate = gates.get(key) ?? openGate(model, wanted);
      gates.set(key, gate);
      return gate;
    },
  };
}

/** The readings of one build that show something. */
export function takenOf(values: Float64Array, places: readonly number[]): readonly Taken[] {
  return places.flatMap((place) => (Number.isNaN(values[place]!) ? [] : [{ place, value: values[place]! }]));
}

/** Whether the gate calls a build unhealthy. */
export function isFlagged({ gateOf }: FaultSubject, taken: readonly Taken[]): boolean {
  const gate = gateOf(taken.map(({ place }) => place));
  return !gate.judge(taken.map(({ value }) => value)).healthy;
}

/** How many healthy builds are called unhealthy. */
export function countFalseAlarms(subject: FaultSubject, builds: number, seed: number): number {
  const random = seededRandom(seed);
  const { model } = subject.ready;
  const own = new Set(subject.places);
  const make = openHealthyBuilds(
    model,
    model.readings.filter((_, place) => own.has(place)),
  );
  let alarms = 0;
  for (let build = 0; build < builds; build += 1) {
    const values = showOnMeter(model, make(drawWorlds(model, random)), random);
    if (isFlagged(subject, takenOf(values, subject.places))) alarms += 1;
  }
  return alarms;
}

/** A fault drawn as often as builders make it. */
export function drawFault({ ready }: FaultSubject, random: Random): number {
  const { faults } = ready.model;
  let left = random();
  const found = faults.findIndex(({ prior }) => (left -= prior) <= 0);
  return found < 0 ? faults.length - 1 : found;
}

/** A faulty build as its meter shows it. */
export function drawFaulty(
  { ready: { model } }: FaultSubject,
  built: BuiltKit,
  random: Random,
  isWrong = false,
): Float64Array {
  return showOnMeter(model, solveBuild(model, built, drawWorlds(model, random, isWrong)), random);
}

/** How the causes of one build were ranked against the truth. */
export interface RankedCase {
  readonly partFirst: boolean;
  readonly partInThree: boolean;
  readonly groupFirst: boolean;
  readonly inSet: boolean;
  /** Every line that was told: its probability, and whether it was right. */
  readonly lines: readonly (readonly [number, boolean])[];
}

/** Holds a ranking against the fault that was there. */
export function judgeRanking(ranking: Ranking, truth: ModelledFault): RankedCase {
  const parts = new Set(truth.fault.faults.map(({ part }) => part));
  const suspects = ranking.suspects.toSorted((one, other) => other.probability - one.probability);
  const hasPart = (count: number): boolean =>
    suspects.slice(0, count).some(({ fault }) => fault.fault.faults.some(({ part }) => parts.has(part)));
  // A wrong value is listed a second time for the severities between those of the list.
  const right = ranking.suspects.find(({ fault }) => fault.fault === truth.fault)?.cause;
  let sum = 0;
  let inSet = false;
  ranking.causes.forEach(({ probability }, cause) => {
    if (sum < 0.95 && cause === right) inSet = true;
    sum += probability;
  });
  return {
    ...{ partFirst: hasPart(1), partInThree: hasPart(3), groupFirst: right === 0, inSet },
    lines: ranking.causes.map(({ probability }, cause) => [probability, cause === right] as const),
  };
}

/** What a population of faulty builds came to. */
export interface SinglesFigures {
  readonly builds: number;
  readonly visible: number;
  readonly flagged: number;
  readonly partFirst: number;
  readonly partInThree: number;
  readonly groupFirst: number;
  readonly inSet: number;
  /** Of each tenth of the stated probability: lines, their mean, and how often they were right. */
  readonly tenths: readonly { readonly lines: number; readonly stated: number; readonly observed: number }[];
  readonly missed: readonly string[];
}

/** Builds with one fault of the list each; shares are of the flagged among the visible. */
export function studySingles(
  subject: FaultSubject,
  builds: number,
  seed: number,
  isWrong = false,
): SinglesFigures {
  const { model } = subject.ready;
  const random = seededRandom(seed);
  const cases: RankedCase[] = [];
  const missed: string[] = [];
  let visible = 0;
  for (let build = 0; build < builds; build += 1) {
    const index = drawFault(subject, random);
    const truth = model.faults[index]!;
    const values = drawFaulty(subject, truth.fault.built, random, isWrong);
    if (!subject.visible[index]!.all) continue;
    visible += 1;
    const taken = takenOf(values, subject.places);
    if (!isFlagged(subject, taken)) {
      missed.push(`not flagged: ${truth.fault.id}`);
      continue;
    }
    const ranking = rankCauses(model, taken);
    const ranked = judgeRanking(ranking, truth);
    if (!ranked.groupFirst) {
      const [first] = ranking.causes;
      missed.push(`${truth.fault.id}: ${first?.faults[0]?.part} ${first?.faults[0]?.kind}`);
    }
    cases.push(ranked);
  }
  return { builds, visible, flagged: cases.length / Math.max(1, visible), ...sharesOf(cases), missed };
}

type Shares = Pick<SinglesFigures, 'partFirst' | 'partInThree' | 'groupFirst' | 'inSet' | 'tenths'>;

function sharesOf(cases: readonly RankedCase[]): Shares {
  const share = (what: 'partFirst' | 'partInThree' | 'groupFirst' | 'inSet'): number =>
    cases.filter((each) => each[what]).length / Math.max(1, cases.length);
  const tenths = Array.from({ length: 10 }, () => ({ lines: 0, sum: 0, right: 0 }));
  for (const { lines } of cases) {
    for (const [probability, isRight] of lines) {
      const tenth = tenths[Math.min(9, Math.floor(10 * probability))]!;
      tenth.lines += 1;
      tenth.sum += probability;
      if (isRight) tenth.right += 1;
    }
  }
  return {
    ...{ partFirst: share('partFirst'), partInThree: share('partInThree') },
    ...{ groupFirst: share('groupFirst'), inSet: share('inSet') },
    tenths: tenths.map(({ lines, sum, right }) => ({
      lines,
      stated: sum / Math.max(1, lines),
      observed: right / Math.max(1, lines),
    })),
  };
}

/** Severities that are not in the list: values two to thirty times off, by a factor drawn at random. */
export function studySeverities(subject: FaultSubject, builds: number, seed: number): number {
  const { model } = subject.ready;
  const random = seededRandom(seed);
  const parts = model.chosen.parts.filter(({ kind }) => kind === 'resistor');
  let [flagged, first] = [0, 0];
  for (let build = 0; build < builds; build += 1) {
    const part = parts[Math.floor(random() * parts.length)]!;
    const factor = 10 ** ((0.3 + 1.2 * random()) * (random() < 0.5 ? 1 : -1));
    const healthy = { chosen: model.chosen, fitted: model.fitted, flaw: {} };
    const changed = { ...part, ohms: (part as Extract<Part, { kind: 'resistor' }>).ohms * factor } as Part;
    const values = drawFaulty(subject, replacePart(healthy, part.id, [changed], false), random);
    const taken = takenOf(values, subject.places);
    if (!isFlagged(subject, taken)) continue;
    flagged += 1;
    const [cause] = rankCauses(model, taken).causes;
    if (cause?.faults.some((fault) => fault.part === part.id)) first += 1;
  }
  return first / Math.max(1, flagged);
}

/** Two faults at once: the share with a true part in the first three, or the last line first. */
export function studyDoubles(subject: FaultSubject, builds: number, seed: number): number {
  const { model } = subject.ready;
  const random = seededRandom(seed);
  let [flagged, good] = [0, 0];
  for (let build = 0; build < builds; build += 1) {
    const [one, other] = [drawFault(subject, random), drawFault(subject, random)].map(
      (index) => model.faults[index]!,
    );
    const [first] = one!.fault.faults;
    const [second] = other!.fault.faults;
    if (!first || !second || one === other) continue;
    const healthy = { chosen: model.chosen, fitted: model.fitted, flaw: {} };
    const values = drawFaulty(subject, second.build(first.build(healthy)), random);
    const taken = takenOf(values, subject.places);
    if (!isFlagged(subject, taken)) continue;
    flagged += 1;
    const ranking = rankCauses(model, taken);
    const parts = new Set([...one!.fault.faults, ...other!.fault.faults].map(({ part }) => part));
    const suspects = ranking.suspects.toSorted((a, b) => b.probability - a.probability).slice(0, 3);
    const isNamed = suspects.some(({ fault }) => fault.fault.faults.some(({ part }) => parts.has(part)));
    if (isNamed || ranking.beyond > (ranking.causes[0]?.probability ?? 0)) good += 1;
  }
  return good / Math.max(1, flagged);
}
