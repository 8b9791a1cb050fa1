import type { Place } from '../kit/kit.ts';
import type { RatingFigure } from '../prediction/prediction.ts';
import type { Unit } from '../units/unit.ts';

/** Fits as is; fits, with readings that differ from the kit's; must not be fitted. */
export type FitVerdict = 'fits' | 'changed' | 'no';

/** Why a valve must not be fitted. */
export type FitReasonCode =
  /** Another base: it does not go into the socket. */
  | 'base'
  /** A rectifier for an amplifying valve, or the like. */
  | 'duty'
  /** An electrode on a pin that is wired for another one. */
  | 'electrode'
  /** Electrodes of one section on the wiring of two. */
  | 'sections-mixed'
  /** An electrode, or a suppressor grid to be joined to the cathode, with nothing soldered to its pin. */
  | 'open'
  /** Wiring that waits for an electrode which the type does not have there. */
  | 'missing'
  /** A wire on a pin that is connected inside and to be left free. */
  | 'internal'
  /** Pins that are one inside, on wiring that is not. */
  | 'join'
  /** Wiring that goes through the valve the socket is made for. */
  | 'join-lost'
  /** Pins of the heater that are not fed, or not as this heater needs. */
  | 'heater-pins'
  /** More or less than the heater's voltage ± 10 %. */
  | 'heater-volts'
  /** A winding, the whole transformer or the fuse past its rating. */
  | 'winding'
  /** Any other rating of the valve, or of a part beside it. */
  | 'rating'
  /** A reading past the stop limit that the kit states. */
  | 'stop'
  /** The adjuster cannot bring the reading to its target. */
  | 'adjuster'
  /** No operating point was found: nothing is known about what it would do. */
  | 'not-solved';

/** One reason against a valve. */
export interface FitReason {
  readonly code: FitReasonCode;
  /** Socket that it concerns. */
  readonly socket: string;
  /** Pins of that socket; empty where it is not about pins. */
  readonly pins: readonly number[];
  /** What does not fit, in a sentence with its figures. */
  readonly text: string;
  /** What would be damaged, in a sentence; null where nothing is. */
  readonly damage: string | null;
}

/** One pin of a socket: what it is wired for, and what the type in hand has there. */
export interface PinRow {
  readonly pin: number;
  /** What the kit's type has there: that is what the pin is wired for. */
  readonly wiredFor: string;
  /** What the type in hand has there. */
  readonly has: string;
  /** What the pin is soldered to: the net's label or its first place; null where nothing is soldered. */
  readonly net: string | null;
  /** What the wiring brings with this socket empty, to the chassis (V); null where not computed. */
  readonly volts: number | null;
  /** Whether that is an rms of the mains' frequency and not DC. */
  readonly isAlternating: boolean;
  /** `same` electrode; `harmless` where it differs and does not matter; `differs` where it does. */
  readonly fit: 'same' | 'harmless' | 'differs';
}

/** One wire of a heater. */
export interface HeaterFit {
  readonly pins: readonly [number, number];
  readonly ratedVolts: number;
  readonly ratedAmps: number;
  /** What the socket gives it, rms (V, A); null where it was not computed. */
  readonly volts: number | null;
  readonly amps: number | null;
}

/** One socket with the type asked about. */
export interface SocketFit {
  readonly socket: string;
  readonly title: string;
  /** The kit's type. */
  readonly kitType: string;
  /** The catalogue's name of the type in hand. */
  readonly type: string;
  readonly base: { readonly socket: string; readonly type: string; readonly isSame: boolean };
  readonly verdict: FitVerdict;
  readonly pins: readonly PinRow[];
  readonly heater: readonly HeaterFit[];
  /** Operating point of each section, nominal, in the condition with most valves in. */
  readonly points: readonly SectionPoint[];
  /** What to know, in sentences: names it is sold under, sources to be verified, what floats. */
  readonly notes: readonly string[];
}

/** A figure with the kit's type and with the one in hand; null where there is none. */
export interface SectionPoint {
  /** `V1.2`, or `V2` for a single one. */
  readonly section: string;
  readonly what: string;
  readonly unit: Unit;
  readonly before: number | null;
  readonly after: number | null;
}

/** A rating in the worst condition, with the kit's types and with those in hand. */
export interface RatingChange extends Pick<RatingFigure, 'part' | 'what' | 'limit' | 'basis'> {
  readonly unit: Unit;
  readonly condition: string;
  /** Percent with the kit's types; null where there was no such rating. */
  readonly before: number | null;
  readonly value: number;
  readonly percent: number;
  /** Past its limit: above 100 %; a grid resistance a little later, as sheets mean a printed value. */
  readonly isOver: boolean;
}

/** Low, nominal, high of a reading. */
export interface FitBand {
  readonly low: number | null;
  readonly nominal: number;
  readonly high: number | null;
}

/** A reading with the kit's types and with those in hand. */
export interface MovedReading {
  readonly id: string;
  readonly title: string;
  readonly condition: string;
  readonly at: Place;
  readonly against: Place;
  readonly unit: Unit;
  readonly before: FitBand;
  /** Null where nothing can be predicted any more; `why` says why. */
  readonly after: FitBand | null;
  /** New nominal less old, in the reading's unit. */
  readonly movedBy: number | null;
  /** The same as a share of the old nominal; null where that is nothing. */
  readonly movedShare: number | null;
  /** Whether the new nominal lies inside the kit's own band: a builder would see no difference. */
  readonly isInside: boolean;
  readonly why: string | null;
}

/** An adjuster turned to bring its reading back to the target; a share of its turn, 0 to 1. */
export interface FitAdjuster {
  readonly control: string;
  readonly reading: string;
  readonly before: number;
  readonly after: number;
}

/** Everything about fitting other valves in a kit: what `kitwright fit --json` prints. */
export interface FitReport {
  readonly format: 'kitwright-fit/1';
  readonly kit: string;
  readonly revision: string;
  readonly verdict: FitVerdict;
  /** The verdict in one sentence. */
  readonly words: string;
  readonly sockets: readonly SocketFit[];
  readonly reasons: readonly FitReason[];
  /** Windings, fuses and whole transformers, whichever changed. */
  readonly windings: readonly RatingChange[];
  /** Ratings of the valves asked about, and of parts that change by a percent or more. */
  readonly ratings: readonly RatingChange[];
  /** Every computed reading of the conditions with the valves in, those that moved most first. */
  readonly readings: readonly MovedReading[];
  readonly adjusters: readonly FitAdjuster[];
  readonly notes: readonly string[];
}
