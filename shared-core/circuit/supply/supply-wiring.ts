import type { RectifierLaw, SupplyPhase } from './rectifier-law.ts';
import type { CoreSource, OpenPiece } from './transformer.ts';

/** What is soldered round the rectifiers, by nets: joined places are already one net. */
export interface SupplyWiring {
  readonly core: CoreSource;
  /** Flattened crest of the mains, −0.04 to 0. */
  readonly flatTop: number;
  readonly hertz: number;
  readonly windings: readonly WiredWinding[];
  readonly rectifiers: readonly WiredRectifier[];
  readonly capacitors: readonly WiredCapacitor[];
  readonly resistors: readonly WiredResistor[];
  /** Chokes; without them a rectifier that works into a choke is not recognised. */
  readonly chokes?: readonly WiredChoke[];
  /** Nets that anything else touches: valves, lamps, the chassis. */
  readonly otherNets: readonly string[];
}

/** A secondary, piece by piece, series-aiding: EMF of a piece is V(from) − V(to). */
export interface WiredWinding {
  readonly id: string;
  readonly pieces: readonly { readonly from: string; readonly to: string; readonly piece: OpenPiece }[];
}

/** A diode, or one anode of a valve whose heater is on. */
export interface WiredRectifier {
  readonly id: string;
  readonly anode: string;
  readonly cathode: string;
  readonly law: RectifierLaw;
}

export interface WiredCapacitor {
  readonly id: string;
  readonly nets: readonly [string, string];
  readonly farads: number;
}

export interface WiredResistor {
  readonly id: string;
  readonly nets: readonly [string, string];
  readonly ohms: number;
}

export interface WiredChoke {
  readonly id: string;
  readonly nets: readonly [string, string];
  readonly henries: number;
  readonly ohms: number;
}

/** A recognised supply: goes into the circuit in place of what it replaces. */
export interface FoundSupply {
  /** A bias supply has its plus on the grounded side. */
  readonly plus: string;
  readonly minus: string;
  readonly form: 'half-wave' | 'centre-tap' | 'bridge';
  /**
   * What the rectifiers work into: a reservoir across plus and minus; a choke, with plus and minus before
   * it and the reservoirs behind it; a series capacitor that pumps charge into the reservoir (cascade
   * doubler, bias supply off the HT winding); or two reservoirs in series, each charged on its own half of
   * the cycle (full-wave doubler).
   */
  readonly input: 'capacitor' | 'choke' | 'pump' | 'doubler';
  /** The choke that the rectifiers work into. */
  readonly choke: WiredChoke | null;
  /** The capacitor that pumps. */
  readonly pump: WiredCapacitor | null;
  /** Where the halves of a full-wave doubler meet, and their reservoirs, upper and lower, in farads (F). */
  readonly doubler: { readonly middle: string; readonly farads: readonly [number, number] } | null;
  /** Centre-tap or bridge with only one of its two phases left. */
  readonly isPhaseMissing: boolean;
  readonly hertz: number;
  readonly winding: string;
  readonly phases: readonly [SupplyPhase, SupplyPhase | null];
  /** Winding pieces in series of each phase: for `loadedWindings` and limits. */
  readonly pieces: readonly [OpenPiece, OpenPiece | null];
  /** The same pieces apart, for each phase that there is: what two supplies share in copper shows here. */
  readonly ownPieces: readonly (readonly OpenPiece[])[];
  /** EMF of each phase with the linear loads on, in volts rms (V); 0 where there is none. */
  readonly emfVoltsRms: readonly [number, number];
  /** Capacitors straight across the output; they stay in the circuit. */
  readonly reservoirs: readonly string[];
  readonly reservoirFarads: number;
  /** Rectifiers and series resistors that the supply stands for. */
  readonly replaced: readonly string[];
  /** Nets between winding and reservoir: alternating, without a mean worth stating. */
  readonly insideNets: readonly string[];
  /** Other supplies on the same winding (by their plus and minus): their pulses share its copper. */
  readonly sharesWindingWith: readonly string[];
}

/** Why rectifiers are not predicted. */
export type NotPredictedReason =
  | 'no-reservoir'
  | 'loaded-before-reservoir'
  | 'winding-shorted'
  | 'unlike-rectifiers'
  | 'parallel-phases'
  | 'opposed-windings';

export interface NotPredicted {
  readonly reason: NotPredictedReason;
  readonly rectifiers: readonly string[];
  readonly nets: readonly string[];
}

export interface FoundSupplies {
  readonly supplies: readonly FoundSupply[];
  readonly notPredicted: readonly NotPredicted[];
  /** Rectifiers that cannot conduct: they stay in the circuit as they are. */
  readonly idle: readonly string[];
}
