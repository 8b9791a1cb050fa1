import type { MeterEntry, Verdict } from '../bands/verdict.ts';
import type { Place } from '../kit/kit.ts';
import type { Bench } from '../prediction/bench.ts';
import type { RecordedInstrument, TakenFrom } from './instrument.ts';
import type { Means } from './stamp.ts';

/** Function, range and leads of the meter: a proof counts only between equal ones. */
export interface MeterSetup {
  readonly function: 'dc volts' | 'ac volts' | 'ohms';
  /** As the builder names it: `auto`, `600 V`. */
  readonly range: string;
  /** Which pair of leads, in the builder's words. */
  readonly leads: string;
}

/** The signs of rule 10. */
export const wrongSigns = [
  'lamp stays bright',
  'fuse blew',
  'red anode',
  'arc',
  'smoke or smell',
  'howl or hum',
  'hot part',
  'off by itself',
  'something else',
] as const;
export type WrongSign = (typeof wrongSigns)[number];

/** Figures shown with a reading when it was judged; SI units. */
export interface ShownBand {
  readonly low: number | null;
  readonly nominal: number | null;
  readonly high: number | null;
  readonly lowest: number | null;
  readonly highest: number | null;
}

interface By {
  readonly by: Means;
}

/** The host started. It changes nothing by itself: the new `run` in its stamp does. */
export interface RunStarted {
  readonly kind: 'run-started';
}

/** Written only when it shows a jump: sleep, or a clock that was set. */
export interface Heartbeat {
  readonly kind: 'heartbeat';
  /** Time without a heartbeat before this one, in milliseconds (ms), by the host's own count. */
  readonly missedMs: number;
}

/** Why of a cut whose line was never finished: nothing of it had been said on the screen. */
export const unfinishedLine = 'unfinished last line';

/**
 * The host found the journal broken, or its last line unfinished, and put the rest aside.
 *
 * Written before anything else, so that what was put aside stays known.
 */
export interface JournalCut {
  readonly kind: 'journal-cut';
  /** What was put aside may hold a plug-in: nothing is proven any more. */
  readonly suspect: boolean;
  readonly why: string;
}

/** Gather, assemble and wire steps were done elsewhere: declared, not witnessed. */
export interface DeclaredAssembled extends By {
  readonly kind: 'declared-assembled';
}

export interface BenchRecorded extends By {
  readonly kind: 'bench-recorded';
  readonly bench: Bench;
}

/** The meter read a known battery, with the setup that the looks use. */
export interface MeterShownToWork extends By {
  readonly kind: 'meter-shown-to-work';
  readonly setup: MeterSetup;
  /** What the meter showed on the battery, in volts (V). */
  readonly volts: number;
}

export interface CautionAcknowledged extends By {
  readonly kind: 'caution-acknowledged';
  readonly caution: string;
  /** The words that were shown. */
  readonly text: string;
}

export interface ReadingEntered extends By {
  readonly kind: 'reading-entered';
  readonly reading: string;
  /** What the meter showed, in SI units; cold ohms before lead ohms are taken off. */
  readonly entry: MeterEntry;
  /** As typed: `245`, `0,5 M`, `OL`. */
  readonly typed: string;
  readonly verdict: Verdict;
  readonly band: ShownBand | null;
  /** The band had been on screen before this number was typed. */
  readonly bandShownBefore: boolean;
  /** Sequence number of the entry that this one corrects (a slip of typing); else null. */
  readonly corrects: number | null;
  /** Offered by an instrument, and entered as it stood. Absent for a number that was typed. */
  readonly instrument?: TakenFrom;
}

/** An instrument on a cable, with what its insulation is good for. */
export interface InstrumentRecorded extends By {
  readonly kind: 'instrument-recorded';
  readonly instrument: RecordedInstrument;
}

/** No 500 V tester at hand: recorded, and printed as "insulation NOT tested". */
export interface InsulationNotTested extends By {
  readonly kind: 'insulation-not-tested';
}

/** The fuse's own marking, read back. */
export interface FuseRead extends By {
  readonly kind: 'fuse-read';
  readonly part: string;
  readonly amps: number;
  readonly speed: 'F' | 'T';
  readonly typed: string;
}

/** An out-of-band verdict taken as it is, with a reason that is printed and counted. */
export interface VerdictAccepted extends By {
  readonly kind: 'verdict-accepted';
  readonly reading: string;
  readonly reason: string;
}

/** A fault was looked for and mended; the readings named are read again. */
export interface Repaired extends By {
  readonly kind: 'repaired';
  readonly readings: readonly string[];
  readonly what: string;
  /** Where hands were; empty when it cannot be said. Absent in older journals only: every new repair names them. */
  readonly places?: readonly Place[];
  /** What turned out to be wrong, where it is one of the causes that were shown. */
  readonly cause?: CauseFound;
}

/** A cause that the builder found to be the one. */
export interface CauseFound {
  readonly part: string;
  /** As faults are named: `open`, `exchanged with R7`. */
  readonly kind: string;
  readonly words: string;
  /** The probability that was shown with it, 0 to 1. */
  readonly probability: number;
}

export interface MainsSwitchOff extends By {
  readonly kind: 'mains-switch-off';
}

/** A discharge clip on a store: 1 to 10 kΩ, 5 W or more. */
export interface ClipFitted extends By {
  readonly kind: 'clip-fitted';
  readonly store: string;
  readonly ohms: number;
  readonly watts: number;
}

export interface ClipRemoved extends By {
  readonly kind: 'clip-removed';
  readonly store: string;
}

export interface BlackLeadClipped extends By {
  readonly kind: 'black-lead-clipped';
}

export interface ProbeStyleChosen extends By {
  readonly kind: 'probe-style-chosen';
  readonly style: 'hooks' | 'hand-held';
}

export interface RedLeadInVolts extends By {
  readonly kind: 'red-lead-in-volts';
}

/** Given just before the plug goes in: the screen says "plug in" only once it is accepted. */
export interface PluggedIn extends By {
  readonly kind: 'plugged-in';
  readonly condition: string;
  /** The switch-on step this belongs to; null for a lamp stage repeated after work inside. */
  readonly step: string | null;
}

/** A supply turns out to be connected although it should not be. Always believed. */
export interface FoundPluggedIn extends By {
  readonly kind: 'found-plugged-in';
}

/** The plug is out of the wall and lies in sight. */
export interface PlugOutConfirmed extends By {
  readonly kind: 'plug-out-confirmed';
}

/** Volts across a store's own two ends. */
export interface StoreLook extends By {
  readonly kind: 'store-look';
  readonly store: string;
  /** In volts (V), sign as shown. */
  readonly volts: number;
  readonly setup: MeterSetup;
  /** From the field's opening to the entry, in milliseconds (ms). */
  readonly enteredAfterMs: number;
}

/** Answers after a first look that was lower than the drain can explain. */
export interface LookChecked extends By {
  readonly kind: 'look-checked';
  readonly store: string;
  readonly place: boolean;
  readonly dcFunction: boolean;
  readonly range: boolean;
  readonly hold: boolean;
  readonly leads: boolean;
}

/** Wiring or parts inside were altered outside a step of the kit: repairs, second thoughts. */
export interface WorkInside extends By {
  readonly kind: 'work-inside';
  readonly what: string;
  readonly places: readonly Place[];
  readonly mainsSide: boolean;
  readonly soldering: boolean;
}

/** After work inside: solder, clearances, cut-offs and tools were looked over. */
export interface LookedOver extends By {
  readonly kind: 'looked-over';
}

/** The one key while live. */
export interface SomethingWrong extends By {
  readonly kind: 'something-wrong';
}

/** Afterwards, with the plug out: what it was. */
export interface WrongDescribed extends By {
  readonly kind: 'wrong-described';
  readonly signs: readonly WrongSign[];
  readonly what: string;
}

/** Volts to chassis on both sides of a fuse before it is touched, in volts (V). */
export interface FuseSidesLooked extends By {
  readonly kind: 'fuse-sides-looked';
  readonly part: string;
  readonly aVolts: number;
  readonly bVolts: number;
}

export interface FuseReplaced extends By {
  readonly kind: 'fuse-replaced';
  readonly part: string;
  readonly amps: number;
  readonly speed: 'F' | 'T';
}

/** An adjuster stands at most negative, or was moved away from it. */
export interface AdjusterSet extends By {
  readonly kind: 'adjuster-set';
  readonly adjuster: string;
  readonly mostNegative: boolean;
}

export interface ValveFitted extends By {
  readonly kind: 'valve-fitted';
  readonly socket: string;
  readonly type: string;
  readonly brand: string;
  readonly dateCode: string;
  readonly stock: 'new' | 'old stock' | 'used' | 'not known';
  readonly label: string;
}

export interface ValveRemoved extends By {
  readonly kind: 'valve-removed';
  readonly socket: string;
}

export interface StepStarted extends By {
  readonly kind: 'step-started';
  readonly step: string;
}

export interface StepTicked extends By {
  readonly kind: 'step-ticked';
  readonly step: string;
  /** Index into the step's list of things to look at, from 0. */
  readonly item: number;
  readonly ticked: boolean;
}

export interface StepDone extends By {
  readonly kind: 'step-done';
  readonly step: string;
}

export interface StepReopened extends By {
  readonly kind: 'step-reopened';
  readonly step: string;
  readonly why: string;
}

/** A revision or erratum was accepted in mid-build. */
export interface KitChanged extends By {
  readonly kind: 'kit-changed';
  readonly revision: string;
  readonly kitHash: string;
  readonly reopenedSteps: readonly string[];
  /** Readings that no longer count. */
  readonly changedReadings: readonly string[];
}

/** Everything that the energy state listens to. */
export type SafetyEvent =
  | RunStarted
  | Heartbeat
  | JournalCut
  | DeclaredAssembled
  | BenchRecorded
  | InstrumentRecorded
  | MeterShownToWork
  | CautionAcknowledged
  | ReadingEntered
  | InsulationNotTested
  | FuseRead
  | VerdictAccepted
  | Repaired
  | MainsSwitchOff
  | ClipFitted
  | ClipRemoved
  | BlackLeadClipped
  | ProbeStyleChosen
  | RedLeadInVolts
  | PluggedIn
  | FoundPluggedIn
  | PlugOutConfirmed
  | StoreLook
  | LookChecked
  | WorkInside
  | LookedOver
  | SomethingWrong
  | WrongDescribed
  | FuseSidesLooked
  | FuseReplaced
  | AdjusterSet
  | ValveFitted
  | ValveRemoved
  | StepStarted
  | StepTicked
  | StepDone
  | StepReopened
  | KitChanged;
