import type { Verdict } from '../bands/verdict.ts';
import type { Bench } from '../prediction/bench.ts';
import type { MeterSetup, WrongSign } from './events.ts';
import type { RecordedInstrument } from './instrument.ts';
import type { Stamp } from './stamp.ts';

/** How a build began. Only loose parts never plugged in start `dead`. */
export type StartedFrom = 'loose parts' | 'assembled' | 'old record';

/** Why the amplifier has to be proven. */
export type DrainingWhy =
  | 'plug pulled'
  | 'assembled elsewhere'
  | 'old record'
  | 'closed'
  | 'asleep or clock set'
  | 'idle'
  | 'found plugged in'
  | 'charge found'
  | 'clip off early'
  | 'journal broken'
  | 'kit changed';

export interface Dead {
  readonly kind: 'dead';
  readonly since: Stamp | null;
  readonly proof: 'never plugged in' | 'measured';
  /** The looks that the proof rests on; a store without a second look rests on its clip. */
  readonly stores: Readonly<Record<string, StoreProgress>>;
}

export interface Live {
  readonly kind: 'live';
  readonly since: Stamp;
  readonly condition: string;
  /** Set when the only action left is to pull the plug. */
  readonly mustPull:
    null | { readonly kind: 'stop'; readonly reading: string } | { readonly kind: 'something wrong' };
}

export interface Draining {
  readonly kind: 'draining';
  readonly since: Stamp | null;
  readonly why: DrainingWhy;
  /** The condition that was live, for rule 8's re-entry; null when it is not known. */
  readonly from: string | null;
  /** When the plug was confirmed out and in sight; null: ask first. */
  readonly plugOut: Stamp | null;
  /** The plug-out above is when the supply really went, so the curves apply. */
  readonly timeKnown: boolean;
  /** No clip moved and nothing done inside since the plug came out. */
  readonly untouched: boolean;
  /** Something went wrong or a stop was met: only a proof leads on. */
  readonly mustProve: boolean;
  /** Every time the meter was shown to work since draining began. */
  readonly meterProofs: readonly MeterProof[];
  readonly stores: Readonly<Record<string, StoreProgress>>;
}

/** The energy state: what may be inside the amplifier now. */
export type EnergyState = Dead | Live | Draining;

export interface MeterProof {
  readonly stamp: Stamp;
  readonly how: 'battery' | 'store seen falling';
  readonly setup: MeterSetup;
}

export interface Look {
  readonly stamp: Stamp;
  /** Without sign, in volts (V). */
  readonly volts: number;
  readonly setup: MeterSetup;
  /** Typed faster than a probe can move. */
  readonly hurried: boolean;
  /** What the curves say for this moment, in volts (V); null when the time is unknown. */
  readonly fastVolts: number | null;
  readonly likelyVolts: number | null;
  readonly slowVolts: number | null;
}

export interface StoreProgress {
  /** Every look since draining began. */
  readonly looks: readonly Look[];
  /** The look below the safe voltage that the 60 seconds run from. */
  readonly first: Look | null;
  /** A look below the safe voltage at least 60 s after `first`. */
  readonly second: Look | null;
  /** The first look was lower than the drain can explain: ask place, function, range, hold, leads. */
  readonly needsChecks: boolean;
}

export interface FittedClip {
  readonly stamp: Stamp;
  readonly ohms: number;
  readonly watts: number;
}

/** A reading's standing in the gates. */
export interface ReadingStanding {
  readonly verdict: Verdict;
  readonly stamp: Stamp;
  /** What the meter showed, in SI units; null for OL. */
  readonly value: number | null;
  /** False once work inside or a kit change asks for it again. */
  readonly counts: boolean;
  /** Blocking verdicts only. */
  readonly settled: 'open' | 'repaired' | 'accepted' | 'settled';
  /** Compare steps whose difference was accepted with this figure. */
  readonly apartAccepted?: readonly string[];
}

/** Something worth telling, that blocks nothing by itself. */
export interface Finding {
  readonly kind: 'slow drain' | 'hurried look' | 'charge found in a dead amplifier';
  readonly store: string;
  readonly volts: number;
  readonly stamp: Stamp;
}

export interface StepStanding {
  readonly status: 'started' | 'done' | 'declared' | 'reopened';
  readonly ticked: readonly number[];
  /** When it was begun; absent where it never was, or was reopened since. */
  readonly started?: Stamp;
}

/** Something was wrong: from the key to the repeated lamp stage. */
export interface WrongStanding {
  readonly stamp: Stamp;
  readonly signs: readonly WrongSign[] | null;
}

export interface SafetyState {
  readonly startedFrom: StartedFrom;
  readonly energy: EnergyState;
  /** Stamp of the last accepted event; null before the first. */
  readonly last: Stamp | null;
  /** Stamp of the last event that a person gave, for the 60 idle minutes. */
  readonly lastByPerson: Stamp | null;
  readonly everPluggedIn: boolean;
  /** How often each condition was entered. */
  readonly plugIns: Readonly<Record<string, number>>;
  /** Conditions entered since the last work inside. */
  readonly enteredSinceWork: readonly string[];
  readonly bench: Bench | null;
  /** Instruments on a cable; absent where none was ever recorded. */
  readonly instruments?: readonly RecordedInstrument[];
  readonly redLeadInVolts: boolean;
  /** Since the plug went in, the probe showed something: volts at another place, or the battery. */
  readonly probeShown: boolean;
  readonly blackLeadClipped: boolean;
  readonly probeStyle: 'hooks' | 'hand-held' | null;
  readonly mainsSwitchOff: boolean;
  readonly clips: Readonly<Record<string, FittedClip>>;
  /** Cautions acknowledged this time, by id; emptied when the plug comes out. */
  readonly acknowledged: Readonly<Record<string, Stamp>>;
  readonly readings: Readonly<Record<string, ReadingStanding>>;
  readonly steps: Readonly<Record<string, StepStanding>>;
  /** What rule 3 asks beside readings, since the last work on the mains side. */
  readonly gate: {
    readonly insulationNotTested: boolean;
    readonly fusesRead: readonly string[];
  };
  /** Adjusters standing at most negative. */
  readonly adjustersMostNegative: readonly string[];
  /** Sockets recorded with a valve in them. */
  readonly valvesFitted: readonly string[];
  /** Sockets recorded as empty. */
  readonly valvesOut: readonly string[];
  /** A socket of which nothing is recorded may hold anything: assembled elsewhere, or records lost. */
  readonly socketsUnknown: boolean;
  /** What work inside left to do: rule 11. */
  readonly afterWork: null | {
    readonly lookedOver: boolean;
    /** Cold readings to repeat. */
    readonly readings: readonly string[];
    /** The lamp stage has to be passed again. */
    readonly lampStage: 'needed' | 'entered';
  };
  readonly wrong: WrongStanding | null;
  readonly fuseSidesProven: readonly string[];
  readonly fusesReplaced: readonly string[];
  /** Last known volts of each store while dead, for soldering (5 V) and ohms (0.5 V). */
  readonly deadVolts: Readonly<Record<string, number>>;
  readonly findings: readonly Finding[];
}
