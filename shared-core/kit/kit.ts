import type { Choices, PartCommon, Place, Tolerance } from './part-common.ts';
import type { SemiconductorPart } from './semiconductor-parts.ts';
import type { ValveType } from '../valves/valve-type.ts';

export type { Choices, Place, Tolerance } from './part-common.ts';

/**
 * A kit as read from its file: every variant of every part, all values in SI units.
 *
 * Plain JSON data throughout (no Map, no class), so that it crosses processes unchanged.
 */
export interface Kit {
  readonly format: string;
  readonly id: string;
  readonly name: string;
  readonly revision: string;
  readonly maker: string;
  /** One paragraph that says what the finished amplifier is. */
  readonly about: string;
  /** The safe voltage, in volts DC (V): 30 by default, never above 60. */
  readonly safeVolts: number;
  readonly options: readonly KitOption[];
  /** Valve types that the kit brings itself; they come before those of the catalogue. None where left out. */
  readonly valves?: readonly ValveType[];
  readonly parts: readonly Part[];
  readonly leads: readonly Lead[];
  /** Net name to one of the net's places. */
  readonly nets: Readonly<Record<string, Place>>;
  /** Sets of valves that are supplied matched, by their sockets; none where left out. */
  readonly matched?: readonly (readonly string[])[];
  /** Part to position seen from below: x and y in millimetres (mm), turn in degrees clockwise. */
  readonly layout: Readonly<Record<string, readonly [number, number, number]>>;
  /** Seen from below, in millimetres (mm) like the layout. */
  readonly chassis: { readonly width: number; readonly depth: number };
  readonly conditions: readonly Condition[];
  readonly readings: readonly Reading[];
  readonly chapters: readonly Chapter[];
}

/** What the builder chooses once: `mains` is `230 V 50 Hz` or `120 V 60 Hz`. */
export interface KitOption {
  readonly id: string;
  readonly title: string;
  readonly choices: readonly string[];
}

export type Part =
  | ResistorPart
  | PotentiometerPart
  | CapacitorPart
  | DiodePart
  | SemiconductorPart
  | ValvePart
  | MainsTransformerPart
  | OutputTransformerPart
  | ChokePart
  | FusePart
  | SwitchPart
  | InletPart
  | TagStripPart
  | JackPart
  | HardwarePart;

export interface ResistorPart extends PartCommon {
  readonly kind: 'resistor';
  readonly ohms: number;
  readonly tolerance: Tolerance;
  readonly watts: number;
  readonly between: readonly [Place, Place];
}

/** Own terminals: `ccw`, `wiper`, `cw`. */
export interface PotentiometerPart extends PartCommon {
  readonly kind: 'potentiometer';
  readonly ohms: number;
  readonly tolerance: Tolerance;
  readonly taper: 'linear' | 'logarithmic';
  readonly watts: number;
}

/** First place is plus. */
export interface CapacitorPart extends PartCommon {
  readonly kind: 'capacitor';
  readonly type: 'electrolytic' | 'film' | 'ceramic';
  readonly farads: number;
  readonly tolerance: Tolerance;
  readonly volts: number;
  readonly between: readonly [Place, Place];
}

/** First place is the anode. */
export interface DiodePart extends PartCommon {
  readonly kind: 'diode';
  readonly type: string;
  readonly reverseVolts: number;
  readonly amps: number;
  readonly between: readonly [Place, Place];
}

/** Own terminals: the socket's pins, `V1.1` … */
export interface ValvePart extends PartCommon {
  readonly kind: 'valve';
  /** A type of the kit's own `valves` or of the valve catalogue. */
  readonly type: string;
  readonly socket: {
    readonly base: string;
    /** Direction of the key or gap seen from below, in degrees clockwise from the top edge. */
    readonly gapFaces: number;
    readonly mounted: 'chassis' | 'board';
  };
}

/**
 * Own terminals: `T1.primary.a`, `T1.primary.b`, a tap of the primary by its volts as `T1.primary.220`; for each
 * winding `a`, `b` and, centre-tapped, `ct`, with a tap also `tap`.
 *
 * Volts are rms with all windings at their own current and the nominal primary voltage.
 */
export interface MainsTransformerPart extends PartCommon {
  readonly kind: 'mains-transformer';
  readonly primary: {
    /** Between `a` and `b`: what the windings' volts hold for. */
    readonly volts: number;
    /** Of the turns between `a` and `b`. */
    readonly dcrOhms: number | null;
    /** Volts rms (V) between `a` and each further tap, by the turns; none where left out. */
    readonly taps?: readonly number[];
  };
  readonly windings: readonly TransformerWinding[];
  /** Spread of the open-circuit voltages. */
  readonly tolerance: Tolerance;
}

export interface TransformerWinding {
  readonly name: string;
  /** One half if centre-tapped, else the whole, in volts rms (V). */
  readonly volts: number;
  readonly centreTapped: boolean;
  /** Rated current, in amperes rms (A). */
  readonly amps: number;
  /** Copper resistance: one figure, or one per half, in ohms (Ω); null when the kit does not say. */
  readonly dcrOhms: readonly number[] | null;
  /** Volts rms (V) from `ct`, or from `b` where there is none, to a tap on the side of `a`. */
  readonly tapVolts?: number;
}

/**
 * Own terminals of a single-ended one: `primary.a` (supply), `primary.b` (anode), optional `primary.tap`.
 * Of a push-pull one: `primary.a` and `primary.b` (anodes), `primary.ct` (supply), with screen taps
 * `primary.tap-a` and `primary.tap-b`. Of both: `secondary.a` (hot), `secondary.b`.
 */
export interface OutputTransformerPart extends PartCommon {
  readonly kind: 'output-transformer';
  /** For two valves, or twice as many, in opposite phase; `primaryOhms` is then from anode to anode. */
  readonly pushPull?: true;
  /** Turns from the supply to the screen tap, as part of those to the anode; left out where there is none. */
  readonly screenTaps?: number;
  /** Copper from the centre to `a` and to `b`, in ohms (Ω), where a push-pull kit says both. */
  readonly primaryHalvesDcrOhms?: readonly [number, number];
  readonly primaryOhms: number;
  readonly secondaryOhms: number;
  readonly primaryDcrOhms: number;
  readonly secondaryDcrOhms: number;
  readonly primaryHenries: number;
  readonly tolerance: Tolerance;
  readonly watts: number;
  readonly maxPrimaryAmps: number;
}

export interface ChokePart extends PartCommon {
  readonly kind: 'choke';
  readonly henries: number;
  readonly dcrOhms: number;
  readonly tolerance: Tolerance;
  readonly maxAmps: number;
  readonly between: readonly [Place, Place];
}

/** Own terminals: `a`, `b`. */
export interface FusePart extends PartCommon {
  readonly kind: 'fuse';
  readonly amps: number;
  readonly volts: number;
  /** IEC 60127: F fast, T time-lag. */
  readonly speed: 'F' | 'T';
  readonly breaking: 'L' | 'H' | 'E';
}

/** Own terminals: `a1`, `b1`, `a2`, `b2` … one pair for each pole; closed when on. */
export interface SwitchPart extends PartCommon {
  readonly kind: 'switch';
  readonly poles: number;
  readonly volts: number;
  readonly amps: number;
  readonly role: 'mains' | 'standby' | 'other';
}

/** Own terminals: `line`, `neutral`, `earth`; also reachable as `inlet.line` … */
export interface InletPart extends PartCommon {
  readonly kind: 'mains-inlet';
}

/** Own terminals: `1` … `tags`. */
export interface TagStripPart extends PartCommon {
  readonly kind: 'tag-strip';
  readonly tags: number;
  /** Tags that are the strip's own foot, joined to the chassis. */
  readonly earthed: readonly number[];
}

/** Own terminals as named: `tip`, `sleeve`, `hot`, `cold` … */
export interface JackPart extends PartCommon {
  readonly kind: 'jack';
  readonly terminals: readonly string[];
  readonly role: 'input' | 'output' | 'other';
}

/** Something that is screwed on, not wired: knob, grommet, foot, solder tag. */
export interface HardwarePart extends PartCommon {
  readonly kind: 'hardware';
  readonly count: number;
}

export interface Lead {
  /** `W` and a number. */
  readonly id: string;
  readonly when: Choices;
  readonly from: Place;
  readonly to: Place;
  readonly colour: string;
  /** In metres (m); null where it is cut to fit. */
  readonly metres: number | null;
  /** Bare wire, insulated wire, twisted pair, screened, a part's own flying lead. */
  readonly style: 'wire' | 'bare' | 'twisted' | 'screened' | 'flying';
}

/** A state the amplifier is put in. */
export interface Condition {
  readonly id: string;
  readonly when: Choices;
  readonly title: string;
  readonly supply: 'unplugged' | 'mains' | 'lamp' | 'variac' | 'bench' | 'insulation-tester';
  /** Rating of the limiter's lamp, in watts (W), for `lamp`. */
  readonly lampWatts: number | null;
  /** Part of the mains voltage, 0 to 1, for `variac`. */
  readonly variac: number | null;
  readonly fitted: 'all' | readonly string[];
  /** Switch part to on or off. */
  readonly switches: Readonly<Record<string, 'on' | 'off'>>;
  /** Control part to position, 0 (anticlockwise) to 1. */
  readonly controls: Readonly<Record<string, number>>;
  readonly input: 'open' | 'shorted' | 'signal';
  /** Output jack to load resistance, in ohms (Ω); missing means open. */
  readonly loads: Readonly<Record<string, number>>;
  /** Output jacks whose load is a loudspeaker and not a resistor; none where left out. */
  readonly loudspeakers?: readonly string[];
  /** Before this readings are judged against stop limits only, in seconds (s). */
  readonly readyAfterSeconds: number;
  readonly cautions: readonly string[];
}

export type Measure = 'dc volts' | 'ac volts' | 'ohms' | 'insulation' | 'gain';

/** What to measure, where, against what, in which condition. */
export interface Reading {
  readonly id: string;
  readonly when: Choices;
  readonly title: string;
  readonly at: Place;
  readonly against: Place;
  readonly measure: Measure;
  readonly in: string;
  /** Stated by the kit instead of computed; in the reading's SI unit. `overload` is OL. */
  readonly expect: { readonly above?: number; readonly below?: number; readonly overload?: true } | null;
  readonly stopAbove: number | null;
  readonly stopBelow: number | null;
  /** In seconds (s). */
  readonly repeatAfterSeconds: readonly number[];
  /** What of the cold gate (safety rule 3) this reading proves. */
  readonly proves: GateProof | null;
}

/** The proofs that the first plug-in needs. */
export type GateProof =
  'earth-bond' | 'line-apart' | 'neutral-apart' | 'insulation' | 'primary' | 'windings-apart' | 'store-clear';

export interface Chapter {
  readonly id: string;
  readonly title: string;
  readonly steps: readonly Step[];
}

/** How far a hand goes in. */
export type Reach = 'outside' | 'probe' | 'inside';

export interface Step {
  readonly id: string;
  readonly when: Choices;
  readonly title: string;
  /** What to do now, in the imperative. */
  readonly do: string;
  /** Detail that a beginner wants. */
  readonly more: string | null;
  readonly reach: Reach;
  readonly parts: readonly string[];
  readonly leads: readonly string[];
  /** Path of a picture inside the kit folder. */
  readonly picture: string | null;
  readonly cautions: readonly Caution[];
  /** Looked at and ticked one by one. */
  readonly inspect: readonly string[];
  readonly goodPlaceToStop: boolean;
  /** This step finds out the right way round of an overall feedback, before the loop is closed. */
  readonly feedbackSense?: boolean;
  readonly action: StepAction;
}

/** ISO 3864 / ANSI Z535 signal words. */
export interface Caution {
  readonly level: 'danger' | 'warning' | 'caution' | 'notice';
  readonly text: string;
}

export type StepAction =
  | { readonly kind: 'gather' }
  | { readonly kind: 'assemble' }
  | { readonly kind: 'inspect' }
  | { readonly kind: 'read'; readonly readings: readonly string[] }
  /** The builder types what is printed on the fuse. */
  | { readonly kind: 'fuse'; readonly part: string }
  | { readonly kind: 'switch-on'; readonly condition: string }
  | { readonly kind: 'switch-off' }
  | { readonly kind: 'drain' }
  | {
      readonly kind: 'adjust';
      readonly control: string;
      readonly reading: string;
      readonly target: number;
      readonly within: number;
    }
  | { readonly kind: 'compare'; readonly readings: readonly [string, string]; readonly within: number }
  | { readonly kind: 'signal'; readonly readings: readonly string[] }
  | { readonly kind: 'soak'; readonly seconds: number; readonly readings: readonly string[] }
  | { readonly kind: 'listen' }
  | { readonly kind: 'sign' };
