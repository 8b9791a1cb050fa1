import type { MeterEntry, Verdict } from '../bands/verdict.ts';
import type { Choices } from '../kit/kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import type { Look, SafetyState, StartedFrom } from '../safety/energy-state.ts';
import type { CauseFound, ShownBand, WrongSign } from '../safety/events.ts';
import type { TakenFrom } from '../safety/instrument.ts';

/** A build: the fold of its journal, as plain JSON. Times are UTC ISO text. */
export interface BuildState {
  readonly build: string;
  readonly kit: string;
  readonly revision: string;
  readonly kitHash: string;
  readonly choices: Choices;
  readonly startedFrom: StartedFrom;
  /** Sequence number of the last entry folded; 0 before the first. */
  readonly seq: number;
  readonly startedAt: string | null;
  readonly lastAt: string | null;
  readonly bench: Bench | null;
  readonly fitted: Fitted;
  readonly valves: Readonly<Record<string, SocketedValve>>;
  readonly differing: Readonly<Record<string, DifferingPart>>;
  readonly steps: Readonly<Record<string, StepRecord>>;
  readonly readings: Readonly<Record<string, ReadingRecord>>;
  readonly cautions: readonly AcknowledgedCaution[];
  readonly plugIns: readonly PlugIn[];
  readonly drains: readonly DrainRecord[];
  readonly stops: readonly StopRecord[];
  readonly wrongs: readonly WrongRecord[];
  readonly repairs: readonly RepairRecord[];
  /** Absent where nothing was measured beyond the kit's readings. */
  readonly measuredPlaces?: readonly MeasuredPlace[];
  readonly fuses: readonly FuseRecord[];
  readonly notes: readonly NoteRecord[];
  readonly photos: readonly PhotoRecord[];
  readonly kitChanges: readonly KitChangeRecord[];
  /** A service: the readings of the old record; absent for every other build. */
  readonly dayOne?: DayOne;
  readonly signature: { readonly name: string; readonly at: string } | null;
  /** Gather, assemble and wire steps were declared, not witnessed. */
  readonly declared: boolean;
  readonly insulationNotTested: boolean;
  readonly probeStyle: 'hooks' | 'hand-held' | null;
  readonly safety: SafetyState;
  /** Entries in the journal that the rules refuse: signs of an edited file, by sequence number. */
  readonly refusedEntries: readonly number[];
}

/** Readings of the record that a service began with: to compare with, proving nothing. */
export interface DayOne {
  /** The old record's seal. */
  readonly record: string;
  readonly at: string | null;
  readonly readings: Readonly<Record<string, MeterEntry>>;
}

export interface SocketedValve {
  readonly type: string;
  readonly brand: string;
  readonly dateCode: string;
  readonly stock: 'new' | 'old stock' | 'used' | 'not known';
  readonly label: string;
}

export interface DifferingPart {
  readonly how: 'missing' | 'fitted instead';
  readonly what: string;
}

export interface StepRecord {
  readonly status: 'started' | 'done' | 'declared' | 'reopened';
  readonly ticked: readonly number[];
  readonly startedAt: string | null;
  readonly doneAt: string | null;
  /** Time from start to done, in seconds (s), where both were in one run of the app. */
  readonly seconds: number | null;
  readonly startedRun: string | null;
  readonly startedTick: number | null;
  readonly reopened: number;
}

export interface ReadingRecord {
  /** Every number typed, the first one first; none is ever erased. */
  readonly entries: readonly ReadingEntryRecord[];
  readonly verdict: Verdict;
  readonly settled: 'open' | 'repaired' | 'accepted' | 'settled';
  /** False when work inside or a kit change asks for it again. */
  readonly counts: boolean;
  readonly acceptedReason: string | null;
}

export interface ReadingEntryRecord {
  readonly seq: number;
  readonly at: string;
  readonly entry: MeterEntry;
  readonly typed: string;
  readonly verdict: Verdict;
  readonly band: ShownBand | null;
  readonly bandShownBefore: boolean;
  readonly corrects: number | null;
  /** The condition that was live; null for a cold reading. */
  readonly condition: string | null;
  /** Offered by an instrument and entered by hand; absent for a number that was typed. */
  readonly instrument?: TakenFrom;
}

export interface AcknowledgedCaution {
  readonly caution: string;
  readonly text: string;
  readonly at: string;
}

export interface PlugIn {
  /** Sequence number of the entry. */
  readonly seq: number;
  readonly condition: string;
  readonly at: string;
  /** When the plug was confirmed out; null when that was never confirmed. */
  readonly outAt: string | null;
}

/** One drain, from plug out to proven or given up. */
export interface DrainRecord {
  /** Sequence number of the entry that opened it. */
  readonly seq: number;
  readonly why: string;
  readonly plugOutAt: string | null;
  readonly timeKnown: boolean;
  readonly looks: readonly DrainLook[];
  readonly clips: readonly { readonly store: string; readonly at: string; readonly ohms: number }[];
  readonly provenAt: string | null;
  /** Sequence number of the entry that completed the proof. */
  readonly provenSeq: number | null;
}

export interface DrainLook extends Omit<Look, 'stamp'> {
  readonly store: string;
  readonly at: string;
  /** Since the plug was confirmed out, in seconds (s); null when the time is unknown. */
  readonly seconds: number | null;
}

export interface StopRecord {
  readonly reading: string;
  readonly at: string;
  readonly typed: string;
}

export interface WrongRecord {
  readonly at: string;
  readonly signs: readonly WrongSign[];
  readonly what: string;
}

export interface RepairRecord {
  readonly at: string;
  readonly what: string;
  readonly readings: readonly string[];
  readonly places: readonly string[];
  /** Absent where none of the causes shown was named. */
  readonly cause?: CauseFound;
}

/** Cold ohms at a place beyond the kit's readings. */
export interface MeasuredPlace {
  readonly reading: string;
  readonly at: string;
  readonly against: string;
  readonly entry: MeterEntry;
  readonly typed: string;
  /** When. */
  readonly time: string;
}

export interface FuseRecord {
  readonly part: string;
  readonly at: string;
  readonly what: 'read back' | 'replaced';
  readonly amps: number;
  readonly speed: 'F' | 'T';
}

export interface NoteRecord {
  readonly about: string | null;
  readonly text: string;
  readonly at: string;
}

export interface PhotoRecord extends NoteRecord {
  readonly file: string;
  readonly sha256: string;
}

export interface KitChangeRecord {
  readonly at: string;
  readonly revision: string;
  readonly kitHash: string;
  readonly reopenedSteps: readonly string[];
}
