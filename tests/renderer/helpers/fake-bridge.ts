import { judge } from '../../../shared-core/bands/judge.ts';
import type { Together } from '../../../shared-core/bands/see-together.ts';
import type {
  ActOutcome,
  Answer,
  Arguments,
  BuilderAction,
  BuildView,
  CallName,
  ExplainAnswer,
  HostEvent,
  InstrumentOutcome,
  JudgedReading,
  RecordView,
} from '../../../shared-core/contract/calls.ts';
import { fitValves } from '../../../shared-core/faults/fit-valves.ts';
import { asInKit, nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { initialSettings } from '../../../shared-core/contract/settings.ts';
import type { BuildEvent } from '../../../shared-core/journal/build-event.ts';
import { currentStep } from '../../../shared-core/journal/current-step.ts';
import { foldBuild, initialBuild, isSafetyEvent } from '../../../shared-core/journal/fold-build.ts';
import { chainStart, nextEntry } from '../../../shared-core/journal/journal-entry.ts';
import type { JournalHeader } from '../../../shared-core/journal/journal-entry.ts';
import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import type { ConditionPrediction } from '../../../shared-core/prediction/prediction.ts';
import type { KitProblem } from '../../../shared-core/problem/problem.ts';
import { refusals } from '../../../shared-core/safety/safety.ts';
import { readMeterEntry } from '../../../shared-core/units/meter-entry.ts';
import type { Bridge } from '../../../renderer/bridge/bridge.ts';
import type { Settings } from '../../../shared-core/contract/settings.ts';
import { heronFigures } from './heron-figures.ts';
import { heronKit } from './heron-kit.ts';

/** A host in memory: the real kit, predictions, rules and fold; only disk, network and clocks are played. */
export interface FakeBridge extends Bridge {
  /** Every call made, by name. */
  readonly calls: readonly CallName[];
  /** Every action written. */
  readonly written: readonly BuildEvent[];
  readonly view: () => BuildView;
  readonly expectation: (condition: string) => ConditionPrediction;
  /** The builder does something elsewhere: written at once, refused with an error. */
  readonly do: (action: BuilderAction) => void;
  /** Both clocks run on, with a heartbeat at the end, in seconds (s). */
  readonly pass: (seconds: number) => void;
  readonly tick: () => number;
  /** What the instrument on its cable shows; nothing answers until a test says so. */
  readonly instrument: { look: () => Promise<InstrumentOutcome> };
  /** What the engine makes of all readings together; nothing until a test says so. */
  readonly sight: { together: Together; explained: ExplainAnswer };
  /** The host falls silent, and calls to it fail. */
  readonly die: () => void;
  /** A new run of the host, as after a crash. */
  readonly restart: () => void;
}

const fakeHash = (text: string): string => String(text.length);

/** Heron at 230 V with everything that the rules and the screens need. */
export const heron = { kit: heronKit, ...heronFigures() };

const noInstrument: KitProblem = {
  code: 'instrument/no-answer',
  severity: 'error',
  message: 'The meter did not answer',
};

/** What a record says of Heron, as far as a screen reads it. */
const recordKit: RecordView['kit'] = {
  ...{ id: 'heron', name: 'Heron', maker: heronKit.maker, revision: 'B', kitHash: '', safeVolts: 30 },
  ...{ conditions: [], chapters: [], steps: [], readings: [], parts: {} },
};

const noPractice: KitProblem = {
  code: 'journal/practice',
  severity: 'error',
  message: 'There is no practice here',
};

/** Starts a host in memory with one build of Heron. */
export function fakeBridge(startedFrom: 'loose parts' | 'assembled' = 'loose parts'): FakeBridge {
  const { kit, facts, predictions } = heron;
  const header: JournalHeader = {
    format: 'kitwright-journal/1',
    build: 'build-1',
    kit: kit.id,
    revision: kit.revision,
    kitHash: facts.kitHash,
  };
  const clock = { tick: 1_000, wall: Date.parse('2026-03-07T09:00:00.000Z'), run: 1, isAlive: true };
  const stamp = () => ({ at: new Date(clock.wall).toISOString(), run: `run-${clock.run}`, tick: clock.tick });
  const calls: CallName[] = [];
  const written: BuildEvent[] = [];
  const ears = new Set<(event: HostEvent) => void>();
  let settings: Settings = initialSettings;
  const instrument: FakeBridge['instrument'] = {
    look: () => Promise.resolve({ kind: 'problem', problems: [noInstrument] }),
  };
  const sight: FakeBridge['sight'] = {
    together: { judgement: null, fromOthers: {}, moved: [] },
    explained: { kind: 'nothing' },
  };
  let build = initialBuild(header);
  let end = chainStart(header, fakeHash);
  const write = (event: BuildEvent): void => {
    const next = nextEntry(end, event, stamp(), fakeHash);
    if (next === null) throw new Error('no canonical form');
    end = { seq: next.entry.seq, hash: next.entry.hash };
    build = foldBuild(build, next.entry, facts);
    written.push(event);
  };
  write({ kind: 'build-started', startedFrom, choices: kit.choices, app: 'test', by: 'hand' });
  const view = (): BuildView => ({
    build,
    kit,
    kitPath: '/kits/heron',
    facts,
    currentStep: currentStep(build, facts)?.id ?? null,
    now: stamp(),
    writer: true,
    notices: [],
  });
  const expectation = (condition: string): ConditionPrediction => {
    const found = predictions.find((each) => each.condition === condition);
    if (found === undefined) throw new Error(`no condition ${condition}`);
    return found;
  };
  const judged = (
    id: string,
    typed: string,
  ): { readonly event: BuildEvent; readonly answer: JudgedReading } => {
    const reading = kit.readings.find((each) => each.id === id);
    const entry = readMeterEntry(typed, unitOfMeasure(reading?.measure ?? 'dc volts'));
    const figures = expectation(reading?.in ?? '').readings.find((each) => each.id === id);
    if (!entry.ok || figures === undefined) throw new Error(`cannot judge ${id} ${typed}`);
    const { energy } = build.safety;
    const secondsSinceSwitchOn = energy.kind === 'live' ? (clock.tick - energy.since.tick) / 1000 : null;
    const readyAfter = facts.conditions.find((each) => each.id === reading?.in)?.readyAfterSeconds ?? 0;
    const { verdict, words } = judge(figures, entry.entry, { secondsSinceSwitchOn, readyAfter });
    const { low, nominal, high, lowest, highest } = figures;
    return {
      event: {
        kind: 'reading-entered',
        reading: id,
        entry: entry.entry,
        typed,
        verdict,
        band: { low, nominal, high, lowest, highest },
        bandShownBefore: false,
        corrects: null,
        by: 'hand',
      },
      answer: { reading: id, verdict, words, expectation: figures, moved: [] },
    };
  };
  const act = (action: BuilderAction): ActOutcome => {
    if (action.kind === 'accept-kit') throw new Error('this bridge has one kit');
    const reading = action.kind === 'enter-reading' ? judged(action.reading, action.typed) : null;
    const judgedEvent = {
      ...reading?.event,
      ...('instrument' in action ? { instrument: action.instrument } : {}),
    };
    const made: BuildEvent = action.kind === 'enter-reading' ? (judgedEvent as BuildEvent) : action;
    const event = 'by' in made && 'by' in action ? ({ ...made, by: action.by } as BuildEvent) : made;
    const refused = isSafetyEvent(event) ? refusals(build.safety, event, stamp(), facts) : [];
    if (refused.length > 0) return { kind: 'refused', refusals: refused, view: view() };
    write(event);
    return { kind: 'done', view: view(), judged: reading?.answer ?? null };
  };
  const beat = (): void => {
    if (clock.isAlive) for (const hear of ears) hear({ kind: 'heartbeat', ...stamp() });
  };
  const answers: { readonly [Name in CallName]: (given: Arguments<Name>) => Answer<Name> } = {
    'app.hello': () => ({
      version: 'test',
      face: 'browser',
      kits: [
        {
          path: '/kits/heron',
          id: 'heron',
          name: 'Heron',
          revision: 'B',
          maker: kit.maker,
          about: kit.about,
        },
      ],
      builds: [
        {
          build: 'build-1',
          kitName: 'Heron',
          revision: 'B',
          energy: build.safety.energy.kind,
          startedAt: build.startedAt,
          lastAt: build.lastAt,
          signed: build.signature !== null,
          problem: null,
        },
      ],
    }),
    'kit.open': ({ path }) =>
      path === '/kits/heron'
        ? { ok: true, value: { path, hash: facts.kitHash, kit }, warnings: [] }
        : {
            ok: false,
            problems: [
              {
                code: 'file/not-found',
                severity: 'error',
                message: `There is no kit in ${path}`,
                hint: 'Look at the path.',
              },
            ],
          },
    'build.start': () => ({ ok: true, value: view(), warnings: [] }),
    'build.open': () => ({ ok: true, value: view(), warnings: [] }),
    'build.act': ({ expectedSeq, action }) =>
      expectedSeq === build.seq ? act(action) : { kind: 'stale', view: view() },
    'predict.condition': ({ condition }) => {
      const prediction = expectation(condition);
      return { ok: true, value: { prediction, conditioned: prediction.readings }, warnings: [] };
    },
    'predict.together': () => ({ ok: true, value: sight.together, warnings: [] }),
    'predict.adjuster': () => ({ ok: true, value: null, warnings: [] }),
    'explain.readings': () => ({ ok: true, value: sight.explained, warnings: [] }),
    'instrument.ports': () => ({ ok: true, value: [], warnings: [] }),
    'instrument.find': () => ({ ok: false, problems: [noInstrument] }),
    // Answered by `call`, in its own time.
    'instrument.look': () => ({ kind: 'problem', problems: [noInstrument] }),
    'fit.valves': ({ valves }) =>
      fitValves({
        ...{ chosen: kit, bench: nominalBench(kit), fitted: asInKit, valves },
        depth: 'nominal',
      }),
    'record.open': ({ text }) =>
      text === 'good'
        ? {
            ok: true,
            value: {
              ...{ build, kit: recordKit, photos: [], flaws: ['entry 3 was changed'] },
              ...togetherOf(sight),
            },
            warnings: [],
          }
        : {
            ok: false,
            problems: [{ code: 'record/not-json', severity: 'error', message: 'This is not a record' }],
          },
    'photo.add': ({ expectedSeq, photo: { about, caption, base64 }, by }) => {
      if (expectedSeq !== build.seq) return { kind: 'stale', view: view() };
      const sha256 = fakeHash(base64).padStart(64, '0');
      write({ kind: 'photo-added', about, caption, by, sha256, file: `${sha256}.jpg` });
      return { kind: 'done', view: view(), judged: null };
    },
    'paper.pages': () => ({ ok: true, value: [{ width: 595, height: 842, items: [] }], warnings: [] }),
    'service.start': () => ({ ok: false, problems: [noPractice] }),
    'practice.start': () => ({ ok: false, problems: [noPractice] }),
    'practice.skip': () => ({ ok: false, problems: [noPractice] }),
    'practice.meter': () => ({ ok: false, problems: [noPractice] }),
    'settings.get': () => settings,
    'settings.set': (given) => (settings = { ...settings, ...given.settings }),
  };
  return {
    calls,
    written,
    view,
    expectation,
    do: (action) => {
      const outcome = act(action);
      if (outcome.kind !== 'done') {
        const why = outcome.kind === 'refused' ? outcome.refusals.map(({ message }) => message) : [];
        throw new Error(`${action.kind} is ${outcome.kind}: ${why.slice(0, 3).join(' ')}`);
      }
      for (const hear of ears) hear({ kind: 'build-changed', build: 'build-1', seq: build.seq });
    },
    pass: (seconds) => {
      clock.tick += seconds * 1000;
      clock.wall += seconds * 1000;
      beat();
    },
    instrument,
    sight,
    tick: () => clock.tick,
    die: () => (clock.isAlive = false),
    restart: () => {
      clock.run += 1;
      clock.tick = 500;
      write({ kind: 'run-started' });
      beat();
    },
    call: <Name extends CallName>(name: Name, given: Arguments<Name>) => {
      calls.push(name);
      if (name === 'instrument.look') return instrument.look() as Promise<Answer<Name>>;
      return clock.isAlive ? Promise.resolve(answers[name](given)) : Promise.reject(new Error('no host'));
    },
    blob: (name) =>
      clock.isAlive
        ? Promise.resolve({ bytes: new Uint8Array([1]), type: 'application/pdf', name: `${name}.pdf` })
        : Promise.reject(new Error('no host')),
    listen: (hear) => {
      ears.add(hear);
      return () => ears.delete(hear);
    },
  };
}

/** The member of a record's view, where there is a judgement. */
function togetherOf({ together: { judgement } }: FakeBridge['sight']): Pick<RecordView, 'together'> {
  return judgement === null ? {} : { together: judgement };
}
