import type { SafetyFacts } from '../safety/facts.ts';
import type { SafetyEvent } from '../safety/events.ts';
import type { SafetyState } from '../safety/energy-state.ts';
import { afterCut, distrust, distrustAll, initialSafety } from '../safety/initial-safety.ts';
import { foldSafety, refusals } from '../safety/safety.ts';
import type { BuildEvent } from './build-event.ts';
import type { BuildState } from './build-state.ts';
import { foldDrains } from './fold-drains.ts';
import { foldRecords } from './fold-records.ts';
import { foldReadings } from './fold-readings.ts';
import { foldSteps } from './fold-steps.ts';
import type { JournalEntry, JournalHeader } from './journal-entry.ts';
import type { ParsedJournal } from './parse-journal.ts';

/** A build before its first event: nothing is known of it, so nothing is proven. */
export function initialBuild(header: JournalHeader): BuildState {
  return {
    build: header.build,
    kit: header.kit,
    revision: header.revision,
    kitHash: header.kitHash,
    choices: {},
    startedFrom: 'old record',
    seq: 0,
    startedAt: null,
    lastAt: null,
    bench: null,
    fitted: { measured: {}, valves: {} },
    valves: {},
    differing: {},
    steps: {},
    readings: {},
    cautions: [],
    plugIns: [],
    drains: [],
    stops: [],
    wrongs: [],
    repairs: [],
    fuses: [],
    notes: [],
    photos: [],
    kitChanges: [],
    signature: null,
    declared: false,
    insulationNotTested: false,
    probeStyle: null,
    safety: initialSafety('old record'),
    refusedEntries: [],
  };
}

/**
 * The build after one more entry of its journal.
 *
 * An entry that the safety rules refuse comes from an edited file, or from rules of another version: it is
 * counted and opens nothing.
 */
export function foldBuild(state: BuildState, entry: JournalEntry, facts: SafetyFacts): BuildState {
  const { event } = entry;
  const seen: BuildState = { ...state, seq: entry.seq, lastAt: entry.at };
  if (event.kind === 'build-started') return foldStart(seen, entry, event);
  if (!isSafetyEvent(event)) return foldRecords(seen, entry);
  const stamp = { at: entry.at, run: entry.run, tick: entry.tick };
  const isRefused = refusals(state.safety, event, stamp, facts).length > 0;
  const safety = foldSafety(state.safety, event, stamp, facts);
  if (isRefused) return refusedEntry(seen, entry, safety);
  return [foldReadings, foldSteps, foldDrains].reduce(
    (build, fold) => fold(build, entry, state.safety),
    foldRecords({ ...seen, safety }, entry),
  );
}

/** A plug-in may have happened all the same, whatever the rules say of it: it ends what was proven. */
function refusedEntry(seen: BuildState, { seq, event }: JournalEntry, safety: SafetyState): BuildState {
  const refusedEntries = [...seen.refusedEntries, seq];
  const isPlug = event.kind === 'plugged-in';
  return { ...seen, refusedEntries, safety: isPlug ? distrust(safety, 'journal broken') : safety };
}

/** A whole journal; where it is broken or cut, the amplifier counts as not proven. */
export function foldJournal(journal: ParsedJournal, facts: SafetyFacts): BuildState {
  const build = journal.entries.reduce(
    (state, entry) => foldBuild(state, entry, facts),
    initialBuild(journal.header),
  );
  return journal.cut === null ? build : { ...build, safety: afterCut(build.safety, journal.cut) };
}

/** Only the first entry starts a build; a later one is an edit. */
function foldStart(
  seen: BuildState,
  entry: JournalEntry,
  event: Extract<BuildEvent, { kind: 'build-started' }>,
): BuildState {
  if (entry.seq !== 1) {
    return {
      ...seen,
      refusedEntries: [...seen.refusedEntries, entry.seq],
      safety: distrustAll(seen.safety, 'journal broken'),
    };
  }
  return {
    ...seen,
    startedAt: entry.at,
    startedFrom: event.startedFrom,
    choices: event.choices,
    safety: withClock(initialSafety(event.startedFrom), entry),
  };
}

function withClock(safety: SafetyState, { at, run, tick }: JournalEntry): SafetyState {
  const stamp = { at, run, tick };
  return { ...safety, last: stamp, lastByPerson: stamp };
}

const otherKinds: ReadonlySet<string> = new Set([
  'build-started',
  'part-measured',
  'part-differs',
  'place-measured',
  'note-written',
  'photo-added',
  'day-one-taken',
  'band-shown',
  'signed',
  'exported',
] satisfies readonly Exclude<BuildEvent['kind'], SafetyEvent['kind']>[]);

/** Whether the energy state listens to an event. */
export function isSafetyEvent(event: BuildEvent): event is SafetyEvent {
  return !otherKinds.has(event.kind);
}
