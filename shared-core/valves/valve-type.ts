import type { BaseName } from './bases.ts';

/** A valve type of the catalogue: plain data, every figure with its source. */
export interface ValveType {
  /** The name it is listed under; the file is named after it. */
  readonly name: string;
  /** Other names of the same valve with the same pins. A wrong-pin look-alike is an entry of its own. */
  readonly synonyms: readonly string[];
  /** What it is, in words: "double triode, high amplification". */
  readonly title: string;
  readonly base: BaseName;
  /** Amplifying systems or rectifier anodes, each with its own device. */
  readonly sections: readonly ValveSection[];
  /** Pins that belong to no section and no heater: shields, a separate suppressor grid. */
  readonly otherPins: readonly OtherPin[];
  readonly pinSource: string;
  readonly heater: Heater;
  readonly ratings: readonly ValveRating[];
  /** The first is the reference point of the spread. */
  readonly characteristics: readonly CharacteristicPoint[];
  readonly operations: readonly TypicalOperation[];
  readonly charts: readonly ChartRow[];
  /** Production spread of the anode current at fixed electrode voltages. */
  readonly spread: CurrentSpread;
  /** Where the model is verified and how well; the first region that holds a point counts. Outside: not predicted. */
  readonly modelRegions: readonly ModelRegion[];
  /** What a rectifier may be used for; null for every other valve. */
  readonly rectifier: RectifierLimits | null;
  /** What a gas stabiliser holds, and in which currents; left out for every other valve. */
  readonly stabiliser?: StabiliserLimits;
  /** Pins that are one inside the valve: the second anode pin of a stabiliser, the two ends of a shield. */
  readonly joinedPins?: readonly (readonly number[])[];
}

export type SectionDevice = 'triode' | 'pentode' | 'rectifier-valve' | 'gas-stabiliser';

/**
 * The "pin" of a cathode that is a filament fed at its two ends: its electrical middle, half way along the wire.
 *
 * No socket contact leads there. As a place it is a net of its own inside the valve, reached from both ends
 * through half the filament each: a hum-balancing control or a centre tap outside then stands where it should.
 */
export const filamentMiddle = 0;

export interface ValveSection {
  /** "1", "2" for the halves of a double valve, "" for the only one. */
  readonly name: string;
  readonly device: SectionDevice;
  /** Pin name of the device to pin number of the base; `filamentMiddle` for the cathode of a fed filament. */
  readonly pins: Readonly<Record<string, number>>;
  /** Parameters of the device by name; those left out take the device's `initial`. */
  readonly parameters: Readonly<Record<string, number>>;
  readonly parameterSource: string;
}

export interface OtherPin {
  readonly pin: number;
  /** `internal`: connected inside, leave it free. `free`: no connection. `absent`: the pin is left out. */
  readonly role:
    'internal' | 'free' | 'absent' | 'suppressor grid' | 'shield' | 'second anode' | 'second cathode';
  /** Pin it is to be joined to at the socket; null for none. */
  readonly joinTo: number | null;
}

export interface Heater {
  /** `none`: a gas-filled valve without a heater. */
  readonly heating: 'indirect' | 'direct' | 'none';
  /** The wires inside, each between two pins, with its own volts (V) and amperes (A), AC or DC. */
  readonly elements: readonly HeaterElement[];
  /** The ways to feed it: which pins are joined to which side. */
  readonly hookups: readonly HeaterHookup[];
  readonly source: string;
  /** From cold to 90 % of the anode current, typically, in seconds (s). */
  readonly warmUpSeconds: number;
  readonly warmUpSource: string;
}

export interface HeaterElement {
  readonly pins: readonly [number, number];
  readonly volts: number;
  readonly amps: number;
}

export interface HeaterHookup {
  readonly name: 'only' | 'series' | 'parallel';
  readonly volts: number;
  readonly amps: number;
  readonly sides: readonly [readonly number[], readonly number[]];
}

/** SI unit of each rating. */
export const ratingUnits = {
  anodeVolts: 'V',
  anodeWatts: 'W',
  allAnodesWatts: 'W',
  anodeAndScreenWatts: 'W',
  cathodeAmps: 'A',
  screenVolts: 'V',
  screenWatts: 'W',
  heaterCathodeVolts: 'V',
  gridOhmsFixedBias: 'Ω',
  gridOhmsCathodeBias: 'Ω',
  inversePeakVolts: 'V',
  peakAnodeAmps: 'A',
  dcAmps: 'A',
  leastAnodeAmps: 'A',
  mostAnodeAmps: 'A',
} as const;

export type RatingName = keyof typeof ratingUnits;

/**
 * A maximum rating.
 *
 * Design-centre ratings hold at nominal mains, design-maximum and absolute ones at the worst mains. Watts and
 * cathode amperes are for each section but for `allAnodesWatts`; `dcAmps` is the output of all anodes of a
 * rectifier together. `leastAnodeAmps` is a lower limit: below it a stabiliser no longer regulates.
 */
export interface ValveRating {
  readonly what: RatingName;
  readonly unit: string;
  readonly value: number;
  readonly basis: 'design-centre' | 'design-maximum' | 'absolute';
  readonly source: string;
}

/** Ratings of one basis and source, in the SI units of `ratingUnits`. */
export function ratings(
  basis: ValveRating['basis'],
  source: string,
  values: Readonly<Partial<Record<RatingName, number>>>,
): readonly ValveRating[] {
  return (Object.keys(values) as RatingName[]).flatMap((what) => {
    const value = values[what];
    return value === undefined ? [] : [{ what, unit: ratingUnits[what], value, basis, source }];
  });
}

/** A published point of the characteristics; voltages to the cathode (V), A, S, Ω. A figure not published is left out. */
export interface CharacteristicPoint {
  readonly anodeVolts: number;
  readonly screenVolts?: number;
  readonly gridVolts: number;
  readonly anodeAmps: number;
  readonly screenAmps?: number;
  readonly transconductance?: number;
  readonly mu?: number;
  /** Control grid to screen grid, of pentodes. */
  readonly screenMu?: number;
  readonly anodeOhms?: number;
  /** Relative limits of a check that differ from the usual ones, and why; null for a figure that is not checked. */
  readonly limits?: {
    readonly anodeAmps?: number;
    readonly transconductance?: number;
    readonly screenAmps?: number | null;
    readonly anodeOhms?: number | null;
    /** Of a rectifier's drop. */
    readonly anodeVolts?: number;
    readonly why: string;
  };
  readonly source: string;
}

/** A published class A or AB point of one valve without signal. Supply voltages are to the chassis (V). */
export interface TypicalOperation {
  readonly anodeVolts: number;
  /** Left out for triodes, and for a pentode whose screen is joined to the anode. */
  readonly screenVolts?: number;
  /** `to cathode`: as characteristics. `to chassis`: the cathode resistor lifts the cathode. */
  readonly measured: 'to cathode' | 'to chassis';
  /** Grid voltage to the cathode (V), or the cathode resistor of one valve (Ω; a common one counts per valve). */
  readonly bias:
    { readonly kind: 'grid'; readonly volts: number } | { readonly kind: 'cathode'; readonly ohms: number };
  /** With the screen joined to the anode, both currents together. */
  readonly anodeAmps: number;
  readonly screenAmps?: number;
  /** Published figures of the same point, of a triode connection. */
  readonly transconductance?: number;
  readonly mu?: number;
  readonly anodeOhms?: number;
  /** Load (Ω; anode to anode for two valves) and the output published for it (W; of both valves). */
  readonly load?: { readonly valves: 1 | 2; readonly ohms: number; readonly watts: number };
  /** Relative limit of a check of the anode current; of the screen current too where one is given. */
  readonly limit: number;
  readonly screenLimit?: number;
  /** A row not fit for a check says why; it is printed only. */
  readonly printOnly?: string;
  readonly source: string;
}

/** Limits of a gas stabiliser. */
export interface StabiliserLimits {
  /** Volts it may hold from one valve to the next (V). */
  readonly regulatedVolts: Range;
  /** Supply needed to be sure of striking (V). */
  readonly strikingVolts: number;
  /** Change of the voltage over the whole range of currents (V): typical, and at most. */
  readonly regulationVolts: readonly [number, number];
  /** Range of currents in which it regulates (A). */
  readonly amps: Range;
  /** Allowed for at most ten seconds after striking (A). */
  readonly startAmps: number;
  /** More across it makes it a relaxation oscillator (F). */
  readonly maxFarads: number;
  readonly source: string;
}

/** A row of a resistance-coupled amplifier chart: cathode bypassed, next grid resistor as load. */
export interface ChartRow {
  readonly supplyVolts: number;
  readonly anodeOhms: number;
  readonly gridOhms: number;
  readonly cathodeOhms: number;
  readonly gain: number;
  readonly limit: number;
  readonly source: string;
}

/** Limits of production, relative to the published mean: −20 % is −0.2. */
export interface CurrentSpread {
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

type Range = readonly [number, number];

/** A region in which the model was compared with published points. Voltages to the cathode (V), A. */
export interface ModelRegion {
  readonly what: string;
  readonly anodeVolts: Range;
  readonly screenVolts?: Range;
  readonly gridVolts?: Range;
  readonly anodeAmps: Range;
  /** One sigma of the anode current at fixed voltages, relative. */
  readonly relativeSigma: number;
  /** One sigma of the screen current, relative. */
  readonly screenRelativeSigma?: number;
  /** One sigma of slope and amplification factor, relative, where known to be wider than `pooledErrors`. */
  readonly slopeRelativeSigma?: number;
  readonly muRelativeSigma?: number;
  readonly source: string;
}

export interface RectifierLimits {
  /** Allowed use with a capacitor input: volts rms of each half (V), total output (A), least resistance per anode (Ω). */
  readonly supplies: readonly {
    readonly windingVolts: number;
    readonly dcAmps: number;
    readonly anodeOhms: number;
  }[];
  readonly maxReservoirFarads: number;
  /** Published output of a full-wave supply with capacitor input: V rms per half, Ω per anode, F, A, Hz, V. */
  readonly operations: readonly {
    readonly windingVolts: number;
    readonly anodeOhms: number;
    readonly farads: number;
    readonly dcAmps: number;
    readonly hertz: number;
    readonly dcVolts: number;
  }[];
  readonly source: string;
}
