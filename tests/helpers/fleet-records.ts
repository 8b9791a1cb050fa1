import type { Verdict } from '../../shared-core/bands/verdict.ts';
import {
  makeRecord,
  recordText,
  type BuildRecord,
  type RecordKit,
} from '../../shared-core/journal/build-record.ts';
import type { BuildEvent } from '../../shared-core/journal/build-event.ts';
import type { BuildState, ReadingRecord, StepRecord } from '../../shared-core/journal/build-state.ts';
import { initialBuild } from '../../shared-core/journal/fold-build.ts';
import { foldRecords } from '../../shared-core/journal/fold-records.ts';
import {
  chainStart,
  nextEntry,
  type JournalEntry,
  type JournalHeader,
} from '../../shared-core/journal/journal-entry.ts';
import type { Bench } from '../../shared-core/prediction/bench.ts';
import { plainBench } from '../../shared-core/prediction/bench.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import type { ShownBand } from '../../shared-core/safety/events.ts';
import { finch } from './finch.ts';
import { eventFrom } from './journey.ts';
import { finchKit } from './report-source.ts';
import { sha256 } from './scripted-build.ts';

/** One reading of an invented builder: one number, or several in the order typed. */
export interface FleetReading {
  readonly values: readonly number[];
  readonly verdicts?: readonly Verdict[];
  readonly band?: ShownBand | null;
  readonly shownBefore?: boolean;
  readonly accepted?: string;
}

/** An invented builder. */
export interface FleetBuilder {
  readonly number: number;
  readonly kit?: RecordKit;
  readonly made?: JournalHeader['made'];
  readonly choices?: Readonly<Record<string, string>>;
  readonly bench?: Bench;
  readonly brand?: string;
  readonly readings?: Readonly<Record<string, FleetReading>>;
  /** Seconds that each step took (s). */
  readonly steps?: Readonly<Record<string, number>>;
  readonly reopened?: readonly string[];
  readonly repairs?: readonly { readonly what: string; readonly places: readonly string[] }[];
  readonly notes?: readonly string[];
  /** Other events of no account, to make the record longer. */
  readonly filler?: number;
}

/** A band whose 1–99 % edges are 2.3263 standard deviations from its middle. */
export function bandOf(middle: number, sigma: number): ShownBand {
  const at = (sigmas: number): number => middle + sigmas * sigma;
  return { low: at(-2.3263), nominal: middle, high: at(2.3263), lowest: at(-3.0902), highest: at(3.0902) };
}

/** Facts with nothing in them that a gather reads, so that a record stays small. */
const fewFacts: SafetyFacts = { ...finch, stores: [], steps: [], conditions: [], readings: [] };

/** Finch with three readings and two steps, for records of a few kilobytes. */
export const smallKit: RecordKit = {
  ...finchKit(),
  conditions: [{ id: 'cold', title: 'Cold' }],
  steps: [
    { id: 'wire-ht', title: 'Wire the HT', chapter: 'all' },
    { id: 'cold-read', title: 'Read it cold', chapter: 'all' },
  ],
  readings: finchKit().readings.filter(({ id }) => ['b1-cold', 'b2-cold', 'primary'].includes(id)),
  parts: {},
};

/** The record of an invented builder, its chain and seal whole; the energy state is left as before the first event. */
export function fleetRecord(builder: FleetBuilder): BuildRecord {
  const kit = builder.kit ?? smallKit;
  const header: JournalHeader = {
    format: 'kitwright-journal/1',
    build: `00000000-0000-4000-8000-${String(builder.number).padStart(12, '0')}`,
    ...{ kit: kit.id, revision: kit.revision, kitHash: kit.kitHash },
    ...(builder.made === undefined ? {} : { made: builder.made }),
  };
  const entries = chainOf(header, eventsOf(builder));
  const record = makeRecord(
    {
      ...{ app: '0.1.0', kit, header, entries, photos: [] },
      build: stateOf(header, entries, builder),
      facts: fewFacts,
    },
    sha256,
  );
  if (record === null) throw new Error('the record could not be made');
  return record;
}

/** The same as the text of its file. */
export function fleetRecordText(builder: FleetBuilder): string {
  return recordText(fleetRecord(builder));
}

function eventsOf({
  bench = plainBench,
  brand = 'Ostrava',
  readings = {},
  repairs = [],
  notes = [],
  filler = 0,
  choices = {},
}: FleetBuilder): readonly BuildEvent[] {
  return [
    eventFrom('build-started', { startedFrom: 'loose parts', choices, app: 'invented' }),
    eventFrom('bench-recorded', { bench }),
    eventFrom('valve-fitted', { socket: 'V3', type: 'EZ81', brand, dateCode: '', stock: 'new', label: '' }),
    ...Object.entries(readings).flatMap(([reading, own]) =>
      own.values.map((value, index) =>
        eventFrom('reading-entered', {
          ...{ reading, entry: { kind: 'value', value }, typed: String(value) },
          verdict: own.verdicts?.[index] ?? 'as expected',
          ...{ band: own.band ?? null, bandShownBefore: own.shownBefore ?? false, corrects: null },
        }),
      ),
    ),
    ...repairs.map(({ what, places }) => eventFrom('repaired', { readings: [], what, places })),
    ...notes.map((text) => eventFrom('note-written', { about: null, text })),
    ...Array.from({ length: filler }, (_, index) =>
      eventFrom('step-ticked', { step: 'wire-ht', item: index, ticked: true }),
    ),
    eventFrom('signed', { name: 'A. B.' }),
  ];
}

function chainOf(header: JournalHeader, events: readonly BuildEvent[]): readonly JournalEntry[] {
  const entries: JournalEntry[] = [];
  let end = chainStart(header, sha256);
  for (const [index, event] of events.entries()) {
    const at = new Date(Date.UTC(2026, 2, 7, 9, 0, index * 10)).toISOString();
    const next = nextEntry(end, event, { at, run: 'r', tick: index * 10_000 }, sha256);
    if (next === null) throw new Error(`${event.kind} cannot be written`);
    entries.push(next.entry);
    end = { seq: next.entry.seq, hash: next.entry.hash };
  }
  return entries;
}

function stateOf(
  header: JournalHeader,
  entries: readonly JournalEntry[],
  { readings = {}, steps = {}, reopened = [], choices = {} }: FleetBuilder,
): BuildState {
  const empty: BuildState = { ...initialBuild(header), choices, startedAt: entries[0]?.at ?? null };
  const state = entries.reduce(
    (build, entry) => foldRecords({ ...build, seq: entry.seq, lastAt: entry.at }, entry),
    empty,
  );
  return {
    ...state,
    stops: Object.entries(readings).flatMap(([reading, { verdicts = [] }]) =>
      verdicts.includes('stop') ? [{ reading, at: empty.startedAt ?? '', typed: '' }] : [],
    ),
    readings: Object.fromEntries(Object.entries(readings).map(([id, own]) => [id, readingOf(own)])),
    steps: Object.fromEntries(
      Object.entries(steps).map(([id, seconds]) => [id, stepOf(seconds, reopened.includes(id))]),
    ),
  };
}

function readingOf({
  values,
  verdicts = [],
  band = null,
  shownBefore = false,
  accepted,
}: FleetReading): ReadingRecord {
  return {
    entries: values.map((value, index) => ({
      ...{
        seq: index + 1,
        at: '2026-03-07T09:00:00.000Z',
        typed: String(value),
        corrects: null,
        condition: null,
      },
      entry: { kind: 'value', value },
      verdict: verdicts[index] ?? 'as expected',
      ...{ band, bandShownBefore: shownBefore },
    })),
    verdict: verdicts.at(-1) ?? 'as expected',
    ...{ settled: 'settled', counts: true, acceptedReason: accepted ?? null },
  };
}

function stepOf(seconds: number, isReopened: boolean): StepRecord {
  return {
    ...{
      status: 'done',
      ticked: [],
      startedAt: null,
      doneAt: null,
      seconds,
      startedRun: null,
      startedTick: null,
    },
    reopened: isReopened ? 1 : 0,
  };
}
