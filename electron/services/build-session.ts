import type { ActOutcome, BuilderAction, BuildView, Expectation } from '../../shared-core/contract/calls.ts';
import { asMeterShows } from '../../shared-core/bands/as-meter-shows.ts';
import type { Together } from '../../shared-core/bands/see-together.ts';
import type { BuildEvent, PhotoAdded } from '../../shared-core/journal/build-event.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import type { KitDifference } from '../../shared-core/journal/kit-difference.ts';
import { currentStep } from '../../shared-core/journal/current-step.ts';
import { foldBuild, isSafetyEvent } from '../../shared-core/journal/fold-build.ts';
import { nextEntry } from '../../shared-core/journal/journal-entry.ts';
import type { ChainEnd, JournalEntry, JournalHeader } from '../../shared-core/journal/journal-entry.ts';
import type { ConditionPrediction } from '../../shared-core/prediction/prediction.ts';
import type { KitProblem, Problems, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import type { Heartbeat } from '../../shared-core/safety/events.ts';
import { foldSafety, refusals } from '../../shared-core/safety/safety.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import type { Engine } from '../engine-worker/engine.ts';
import { keepChangedKit, noteEnd } from '../files/build-folder.ts';
import type { BuildPaths } from '../files/build-folder.ts';
import type { CleanPhoto } from '../files/clean-photo.ts';
import type { JournalFile } from '../files/journal-file.ts';
import { keepPhoto } from '../files/photo-files.ts';
import { sha256 } from '../files/sha256.ts';
import { differenceOf } from './changed-kit.ts';
import type { BuildKit } from './changed-kit.ts';
import type { KitOnDisk } from './open-kit.ts';
import { basisOf, conditionKey } from './facts-source.ts';
import type { FactsSource } from './facts-source.ts';
import { conditionedReadings } from './judge-entry.ts';
import { prepareReading } from './prepare-reading.ts';
import type { Prepared, ReadingDesk } from './prepare-reading.ts';
import { seeReadings } from './see-readings.ts';
import { Turns } from './take-turns.ts';

/** What a session works with; given by whoever opened it. */
export interface SessionParts {
  readonly paths: BuildPaths;
  readonly header: JournalHeader;
  readonly kit: KitOnDisk;
  readonly source: FactsSource;
  readonly engine: Engine;
  /** The host's clocks and run. */
  readonly stamp: () => Stamp;
  /** Told after every entry on disk, and of a lapse that could not be written. */
  readonly changed: (build: string, seq: number, lapsed?: true) => void;
  /** Null where another face is the one writer. */
  readonly journal: JournalFile | null;
  readonly release: () => Promise<void>;
  readonly kitPath: string;
  /** The kit's own folder where it changed since, fit to be built. */
  readonly offered: BuildKit | null;
  readonly notices: readonly KitProblem[];
}

/** Events after which predictions and facts are other ones. */
const changesBasis: ReadonlySet<BuildEvent['kind']> = new Set([
  'bench-recorded',
  'valve-fitted',
  'valve-removed',
  'part-measured',
  'part-differs',
]);

/** One open build: its journal, its fold, and the one way to write to it. */
export class BuildSession {
  readonly parts: SessionParts;
  private readonly turns = new Turns();
  private folded: BuildState;
  private facts: SafetyFacts;
  private written: readonly JournalEntry[];
  private end: ChainEnd;
  /** A lapse that the journal still lacks: it is written before anything else. */
  private owed: Heartbeat | null = null;

  constructor(
    parts: SessionParts,
    start: {
      readonly build: BuildState;
      readonly facts: SafetyFacts;
      readonly entries: readonly JournalEntry[];
      readonly end: ChainEnd;
    },
  ) {
    this.parts = parts;
    this.folded = start.build;
    this.facts = start.facts;
    this.written = start.entries;
    this.end = start.end;
  }

  get build(): BuildState {
    return this.folded;
  }

  get entries(): readonly JournalEntry[] {
    return this.written;
  }

  get isWriter(): boolean {
    return this.parts.journal !== null;
  }

  get currentFacts(): SafetyFacts {
    return this.facts;
  }

  view(): BuildView {
    const { source, kitPath, notices, stamp } = this.parts;
    return {
      build: this.folded,
      kit: source.chosen,
      kitPath,
      facts: this.facts,
      currentStep: currentStep(this.folded, this.facts)?.id ?? null,
      now: stamp(),
      writer: this.isWriter,
      notices,
      kitChange: this.kitChange(),
    };
  }

  private kitChange(): KitDifference | null {
    const { source, offered } = this.parts;
    return differenceOf(source.chosen, offered, this.folded.safety);
  }

  /**
   * Takes the changed kit that was shown: keeps a copy of it, then writes the event.
   *
   * @returns Null once it is written: the build is then opened anew, with the rules' facts of that kit.
   */
  acceptKit(expectedSeq: number, { kitHash, by }: AcceptKit): Promise<ActOutcome | null> {
    return this.turns.take(async (): Promise<ActOutcome | null> => {
      const { offered, paths, stamp } = this.parts;
      const change = this.kitChange();
      if (!this.isWriter) return { kind: 'problem', problems: [readOnly] };
      if (expectedSeq !== this.folded.seq) return { kind: 'stale', view: this.view() };
      if (offered === null || change?.kitHash !== kitHash) return { kind: 'problem', problems: [otherKit] };
      const { revision, reopenedSteps, takenBack: changedReadings } = change;
      const event = { kind: 'kit-changed', by, revision, kitHash, reopenedSteps, changedReadings } as const;
      const now = stamp();
      const refused = refusals(this.folded.safety, event, now, this.facts);
      if (refused.length > 0) return { kind: 'refused', refusals: refused, view: this.view() };
      try {
        await keepChangedKit(paths, offered.kit.folder);
      } catch (error) {
        return { kind: 'problem', problems: [notWritten(error)] };
      }
      const problems = await this.write(event, now);
      return problems ? { kind: 'problem', problems } : null;
    });
  }

  /** Judges, asks the rules, writes, folds and answers; whatever takes long happens before its turn comes. */
  async act(expectedSeq: number, action: Exclude<BuilderAction, AcceptKit>): Promise<ActOutcome> {
    if (!this.isWriter) return { kind: 'problem', problems: [readOnly] };
    if (expectedSeq !== this.folded.seq) return { kind: 'stale', view: this.view() };
    const prepared: Result<Prepared> =
      action.kind === 'enter-reading' ? await prepareReading(this.desk(), action) : succeed(plain(action));
    if (!prepared.ok) return { kind: 'problem', problems: prepared.problems };
    const ready = await this.factsAfter(prepared.value.eventAt(this.parts.stamp()));
    if (!ready.ok) return { kind: 'problem', problems: ready.problems };
    return this.turns.take(async () => {
      if (expectedSeq !== this.folded.seq) return { kind: 'stale', view: this.view() };
      const stamp = this.parts.stamp();
      const event = prepared.value.eventAt(stamp);
      const refused = isSafetyEvent(event) ? refusals(this.folded.safety, event, stamp, this.facts) : [];
      if (refused.length > 0) return { kind: 'refused', refusals: refused, view: this.view() };
      const problems = await this.write(event, stamp);
      if (problems) return { kind: 'problem', problems };
      return { kind: 'done', view: this.view(), judged: prepared.value.judged(this.folded) };
    });
  }

  /** Keeps a clean photo beside the journal, then writes of it. */
  addPhoto(expectedSeq: number, photo: CleanPhoto, event: PhotoWords): Promise<ActOutcome> {
    return this.turns.take(async (): Promise<ActOutcome> => {
      if (!this.isWriter) return { kind: 'problem', problems: [readOnly] };
      if (expectedSeq !== this.folded.seq) return { kind: 'stale', view: this.view() };
      try {
        const kept = await keepPhoto(this.parts.paths, photo);
        const problems = await this.write({ kind: 'photo-added', ...kept, ...event }, this.parts.stamp());
        if (problems) return { kind: 'problem', problems };
      } catch (error) {
        return { kind: 'problem', problems: [notWritten(error)] };
      }
      return { kind: 'done', view: this.view(), judged: null };
    });
  }

  /** Writes an event of the host's own. */
  note(event: BuildEvent): Promise<Problems | null> {
    return this.turns.take(() => this.write(event, this.parts.stamp()));
  }

  /**
   * The host slept or its clocks parted: what was proven ends, written or not.
   *
   * On a full disk the state is the stricter one at once, and the entry is made up for before the next.
   */
  missed(event: Heartbeat): Promise<void> {
    return this.turns.take(async () => {
      const stamp = this.parts.stamp();
      if ((await this.write(event, stamp)) === null) return;
      this.owed = event;
      const safety = foldSafety(this.folded.safety, event, stamp, this.facts);
      this.folded = { ...this.folded, safety };
      this.parts.changed(this.parts.header.build, this.end.seq, true);
    });
  }

  /** A condition's expectations as this builder's meter shows them. */
  async predict(condition: string): Promise<Result<ConditionPrediction>> {
    const { source, engine, header } = this.parts;
    const basis = basisOf(source.chosen, this.folded);
    const key = conditionKey(condition, source.keyOf(basis));
    const needs = { chosen: source.chosen, condition, ...basis };
    const made = await engine.run('condition', needs, { key, slot: `${header.build}\n${condition}` });
    if (!made.ok) return made;
    if (made.value === null) {
      const message = `There is no condition "${condition}" in ${source.chosen.name}`;
      return fail({ code: 'predict/unknown-condition', severity: 'error', message });
    }
    return succeed(asMeterShows(made.value, basis.bench.leads.ohms));
  }

  async expect(condition: string): Promise<Result<Expectation>> {
    const made = await this.predict(condition);
    if (!made.ok) return made;
    const conditioned = conditionedReadings(this.folded, this.parts.source.chosen, made.value);
    return succeed({ prediction: made.value, conditioned });
  }

  /**
   * All readings so far seen together.
   *
   * @param slot Who asks: a newer question of the same one replaces this.
   */
  together(slot: 'screen' | 'record'): Promise<Result<Together>> {
    const { source, engine, header } = this.parts;
    const { chosen } = source;
    const basis = basisOf(chosen, this.folded);
    const kit = { chosen, kitHash: header.kitHash, ...basis };
    const order = { key: source.keyOf(basis), slot: `${header.build}\n${slot}` };
    return seeReadings(engine, kit, this.folded, order);
  }

  async close(): Promise<void> {
    await this.turns.take(async () => {
      await this.parts.journal?.close();
      await this.parts.release();
    });
  }

  /** What is needed to understand and judge a reading. */
  private desk(): ReadingDesk {
    return {
      chosen: this.parts.source.chosen,
      build: () => this.folded,
      facts: () => this.facts,
      predict: (condition) => this.predict(condition),
    };
  }

  /** Computes beforehand what the rules need to know once this event is written. */
  private async factsAfter(event: BuildEvent): Promise<Result<SafetyFacts>> {
    if (!changesBasis.has(event.kind)) return succeed(this.facts);
    const next = nextEntry(this.end, event, this.parts.stamp(), sha256);
    if (next === null) return fail(notPlain);
    const build = foldBuild(this.folded, next.entry, this.facts);
    return this.parts.source.factsFor(basisOf(this.parts.source.chosen, build));
  }

  private async write(event: BuildEvent, stamp: Stamp): Promise<Problems | null> {
    if (this.owed !== null) {
      const problems = await this.append(this.owed, stamp);
      if (problems) return problems;
      this.owed = null;
    }
    return this.append(event, stamp);
  }

  private async append(event: BuildEvent, stamp: Stamp): Promise<Problems | null> {
    const { journal, paths, source, changed, header } = this.parts;
    if (journal === null) return [readOnly];
    const next = nextEntry(this.end, event, stamp, sha256);
    if (next === null) return [notPlain];
    try {
      await journal.append(next.line);
    } catch (error) {
      return [notWritten(error)];
    }
    this.end = { seq: next.entry.seq, hash: next.entry.hash };
    this.written = [...this.written, next.entry];
    this.folded = foldBuild(this.folded, next.entry, this.facts);
    this.facts = source.knownFor(basisOf(source.chosen, this.folded)) ?? this.facts;
    // Late or lost, this note only makes a cut harder to see: nobody waits for it to be flushed.
    await noteEnd(paths, this.end).catch(() => undefined);
    changed(header.build, this.end.seq);
    return null;
  }
}

type PhotoWords = Pick<PhotoAdded, 'about' | 'caption' | 'by'>;
type AcceptKit = Extract<BuilderAction, { kind: 'accept-kit' }>;

function plain(event: Exclude<BuilderAction, { kind: 'enter-reading' | 'accept-kit' }>): Prepared {
  return { eventAt: () => event, judged: () => null };
}

const otherKit: KitProblem = {
  code: 'build/kit-changed',
  severity: 'error',
  message: 'The changes shown are not those of the kit as it is now',
  hint: 'Open the build again and read the changes.',
};

const readOnly: KitProblem = {
  code: 'build/read-only',
  severity: 'error',
  message: 'This build is open in another window or browser of the app, which is its one writer',
  hint: 'Go on there, or close it there and open the build again here.',
};

const notPlain: KitProblem = {
  code: 'call/arguments',
  severity: 'error',
  message: 'This entry holds a number or a text that cannot be written down',
  hint: 'Type it again.',
};

function notWritten(error: unknown): KitProblem {
  const why = (error as NodeJS.ErrnoException).code ?? String(error);
  const message = `The journal could not be written: ${why}. Nothing of this entry is kept`;
  return {
    code: 'file/not-written',
    severity: 'error',
    message,
    hint: 'Make room on the disk, then do it again.',
  };
}
