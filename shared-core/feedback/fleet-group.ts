import type { BuildRecord, RecordKit } from '../journal/build-record.ts';
import type { BuildState } from '../journal/build-state.ts';
import { isObject } from '../journal/shape.ts';
import { NameCounts, shortened } from './bounded.ts';
import { covariatesOf, type Covariates } from './covariates.ts';
import { CrossTally } from './covariate-tally.ts';
import type { JointsOf } from './joints.ts';
import { ReadingTally } from './reading-tally.ts';
import { StepTally } from './step-tally.ts';
import { Tally } from './tally.ts';

/** Readings and steps of one kit; notes, causes and signs kept: more than any kit, and a bound on memory. */
const mostReadings = 600;
const mostSteps = 600;
const mostCauses = 200;
const mostNotes = 100;
const mostSigns = 40;

/** What records of one revision of a kit come to, in a fixed amount of memory. */
export class FleetGroup {
  readonly kit: Pick<RecordKit, 'id' | 'name' | 'maker' | 'revision' | 'kitHash'>;
  readonly isSimulated: boolean;
  readonly readings = new Map<string, ReadingTally>();
  readonly steps = new Map<string, StepTally>();
  readonly covariates = new CrossTally();
  readonly levels = new NameCounts(mostNotes);
  readonly causes = new NameCounts(mostCauses);
  readonly signs = new NameCounts(mostSigns);
  readonly notes = new NameCounts(mostNotes);
  readonly choices = new NameCounts(mostSigns);
  readonly benches = new NameCounts(mostNotes);
  /** Time from the first event to the last, in seconds (s). */
  readonly seconds = new Tally();
  builds = 0;
  signed = 0;
  declared = 0;
  /** Builds with a fault that was repaired, with a stop, with something wrong that was described. */
  repairedIn = 0;
  stoppedIn = 0;
  wrongIn = 0;
  questions = 0;
  /** Time of the latest event of all, UTC ISO text. */
  lastAt = '';
  readonly #joints: JointsOf;

  constructor(record: BuildRecord, isSimulated: boolean, joints: JointsOf) {
    const { id, name, maker, revision, kitHash } = record.kit;
    this.kit = { id, name: shortened(name), maker: shortened(maker), revision: shortened(revision), kitHash };
    this.isSimulated = isSimulated;
    this.#joints = joints;
    for (const reading of record.kit.readings.slice(0, mostReadings)) {
      this.readings.set(reading.id, new ReadingTally(reading));
    }
    for (const { id: step, title } of record.kit.steps.slice(0, mostSteps)) {
      this.steps.set(step, new StepTally(step, shortened(title)));
    }
  }

  /** @param by 1 counts a record, −1 takes it out again. */
  count(record: BuildRecord, by: 1 | -1): void {
    const { build } = record;
    const covariates = covariatesOf(build);
    this.builds += by;
    this.#countWhole(record, covariates, by);
    for (const [id, reading] of Object.entries(build.readings)) {
      this.readings.get(id)?.count(reading, covariates, by);
    }
    for (const [id, step] of Object.entries(build.steps)) this.steps.get(id)?.count(step, by);
    for (const id of stoppedSteps(record)) this.#at(id, (step) => (step.stoppedIn += by));
    for (const { about } of build.notes) this.#at(about ?? '', (step) => (step.notes += by));
    for (const id of this.#repairedSteps(build)) this.#at(id, (step) => (step.repairedIn += by));
  }

  #countWhole({ build, question }: BuildRecord, covariates: Covariates, by: 1 | -1): void {
    if (build.signature !== null) this.signed += by;
    if (build.declared) this.declared += by;
    if (build.repairs.length > 0) this.repairedIn += by;
    if (build.stops.length > 0) this.stoppedIn += by;
    if (build.wrongs.length > 0) this.wrongIn += by;
    if (question !== undefined) this.questions += by;
    if (build.lastAt !== null && build.lastAt > this.lastAt) this.lastAt = build.lastAt;
    this.covariates.count(covariates, by);
    for (const [name, level] of covariates) this.levels.add(`${name}: ${level}`, by);
    for (const { what } of build.repairs) if (what.trim() !== '') this.causes.add(shortened(what), by);
    for (const { signs } of build.wrongs) for (const sign of signs) this.signs.add(shortened(sign), by);
    for (const { about, text } of build.notes) {
      this.notes.add(shortened(about === null ? text : `${about}: ${text}`), by);
    }
    this.choices.add(JSON.stringify(sorted(build.choices)), by);
    if (build.bench !== null) {
      const { mains, meter } = build.bench;
      this.benches.add(JSON.stringify([mains.source, meter.input, meter.accuracy]), by);
    }
    const span = spanOf(build);
    if (span === null) return;
    if (by === 1) this.seconds.add(span);
    else this.seconds.remove(span);
  }

  #at(id: string, change: (step: StepTally) => void): void {
    const step = this.steps.get(id);
    if (step) change(step);
  }

  #repairedSteps({ repairs }: BuildState): ReadonlySet<string> {
    return new Set(repairs.flatMap(({ places }) => places.flatMap((place) => this.#joints.get(place) ?? [])));
  }
}

/** Steps with a reading that went past its stop limit. */
function stoppedSteps({ build, facts }: BuildRecord): ReadonlySet<string> {
  if (build.stops.length === 0) return new Set();
  const stopped = new Set(build.stops.map(({ reading }) => reading));
  // A record's steps are whatever its file says: nothing is believed of their shape.
  const steps: readonly unknown[] = facts.steps;
  const ids = steps.flatMap((step): string[] => {
    if (!isObject(step) || typeof step['id'] !== 'string' || !isObject(step['action'])) return [];
    const { readings, reading } = step['action'];
    const own = Array.isArray(readings) ? (readings as readonly unknown[]) : [reading];
    return own.some((each) => typeof each === 'string' && stopped.has(each)) ? [step['id']] : [];
  });
  return new Set(ids);
}

function spanOf({ startedAt, lastAt }: BuildState): number | null {
  const seconds = (Date.parse(lastAt ?? '') - Date.parse(startedAt ?? '')) / 1000;
  return seconds >= 0 ? seconds : null;
}

function sorted(choices: Readonly<Record<string, string>>): Readonly<Record<string, string>> {
  return Object.fromEntries(Object.entries(choices).toSorted(([one], [other]) => (one < other ? -1 : 1)));
}
