import type { SafetyState } from '../safety/energy-state.ts';
import type { BuildState, ReadingEntryRecord, ReadingRecord } from './build-state.ts';
import type { JournalEntry } from './journal-entry.ts';

/** Readings: every number typed is kept; the standing is the safety machine's. */
export function foldReadings(build: BuildState, entry: JournalEntry, before: SafetyState): BuildState {
  const { event } = entry;
  const entered = event.kind === 'reading-entered' ? withEntry(build, entry, before) : build;
  const accepted =
    event.kind === 'verdict-accepted' ? withReason(entered, event.reading, event.reason) : entered;
  return withStandings(accepted);
}

function withEntry(build: BuildState, entry: JournalEntry, before: SafetyState): BuildState {
  const { event, seq, at } = entry;
  if (event.kind !== 'reading-entered') return build;
  const verdict = build.safety.readings[event.reading]?.verdict ?? event.verdict;
  const { entry: value, typed, band, bandShownBefore, corrects, instrument } = event;
  const condition = before.energy.kind === 'live' ? before.energy.condition : null;
  const record: ReadingEntryRecord = {
    seq,
    at,
    entry: value,
    typed,
    verdict,
    band,
    bandShownBefore,
    corrects,
    condition,
    ...(instrument === undefined ? {} : { instrument }),
  };
  const old = build.readings[event.reading];
  const next: ReadingRecord = {
    entries: [...(old?.entries ?? []), record],
    verdict,
    settled: 'open',
    counts: true,
    acceptedReason: null,
  };
  return {
    ...build,
    readings: { ...build.readings, [event.reading]: next },
    stops: verdict === 'stop' ? [...build.stops, { reading: event.reading, at, typed }] : build.stops,
  };
}

function withReason(build: BuildState, reading: string, reason: string): BuildState {
  const old = build.readings[reading];
  if (old === undefined) return build;
  return { ...build, readings: { ...build.readings, [reading]: { ...old, acceptedReason: reason } } };
}

function withStandings(build: BuildState): BuildState {
  const readings = Object.entries(build.readings).map(([id, record]) => {
    const standing = build.safety.readings[id];
    return [
      id,
      standing === undefined
        ? record
        : { ...record, verdict: standing.verdict, settled: standing.settled, counts: standing.counts },
    ];
  });
  return { ...build, readings: Object.fromEntries(readings) };
}
