/**
 * The contract between a device file and the solver.
 *
 * A device sees its own *local unknowns*: the voltages of its pins to the circuit's reference, in
 * volts (V), followed by the currents of its branches, in amperes (A). It answers with one residual
 * for each of them and the derivatives of each residual by each unknown.
 *
 * The one sign rule: **current into a pin is positive.** The residual of a pin is the current that
 * flows from the net into the device there; the residual of a branch is its own law written as
 * `f(volts, currents) = 0` (a 5 V source: `plus − minus − 5`).
 */
export interface Device {
  /** Kebab-case name, the same as the file. */
  readonly name: string;
  /** The ends, in the order of the local unknowns. */
  readonly pins: readonly string[];
  /** Extra unknown currents, in amperes (A), each with a law of its own. */
  readonly branches?: readonly string[];
  /** What the device is set by, in the order in which `evaluate` finds them. */
  readonly parameters: readonly DeviceParameter[];
  /** The law is linear: stamped once per parameter set. */
  readonly linear?: boolean;
  /** The law: fills `out`, which arrives zeroed, from the local unknowns and the parameters. */
  readonly evaluate: (unknowns: Float64Array, parameters: Float64Array, out: LocalStamp) => void;
  /**
   * First guess of the pin-to-pin voltages: `[pin index, reference pin index, volts]`; of the parameters
   * where it depends on them (the polarity of a transistor).
   */
  readonly start?: DeviceStart | ((parameters: Float64Array) => DeviceStart);
  /**
   * The voltage that a source can put on its first pin against its last, in volts (V): infinite where only
   * the rest of the circuit bounds it. What only takes power up leaves it out.
   */
  readonly drives?: (parameters: Float64Array) => number;
  /**
   * The largest safe Newton step.
   *
   * Edits `next` (local unknowns) in place, given the `last` ones at which the law was evaluated. The
   * law is then evaluated at `next` and continued along its tangent to where the unknowns really stand.
   *
   * @returns Whether anything was held back; a held step does not count as converged.
   */
  readonly limitStep?: (last: Float64Array, next: Float64Array, parameters: Float64Array) => boolean;
  /**
   * Stored charge for small signal and drain: capacitance between two pins, in farads (F), or flux
   * of a branch, in henries (H). `plus`, `minus` count pins, `branch` counts branches. A flux takes
   * `henries × d(branch current)/dt` off the residual of that branch's own law.
   */
  readonly storage?: (parameters: Float64Array) => readonly DeviceStorage[];
  /**
   * Slow loop round the operating point (ripple, lamp, striking): may change `parameters` only.
   *
   * @returns The largest relative change made; the loop ends when every device returns less than 1e-9.
   */
  readonly refine?: (unknowns: Float64Array, parameters: Float64Array, context: RefineContext) => number;
  /** What the operating point means for the part: dissipation and limits. */
  readonly report?: (unknowns: Float64Array, parameters: Float64Array) => readonly DeviceFigure[];
}

/** Pin index, reference pin index, volts (V). */
export type DeviceStart = readonly (readonly [number, number, number])[];

/** One parameter of a device. */
export interface DeviceParameter {
  readonly name: string;
  /** SI symbol of the unit, or '' for a pure number. */
  readonly unit: string;
  readonly initial: number;
  /** Allowed range, inclusive. */
  readonly range: readonly [number, number];
  /** What it means, in one line. */
  readonly meaning: string;
}

/** Residuals (length n) and their row-major derivatives (length n × n), n = pins + branches. */
export interface LocalStamp {
  readonly residuals: Float64Array;
  readonly derivatives: Float64Array;
}

export type DeviceStorage =
  | { readonly kind: 'charge'; readonly plus: number; readonly minus: number; readonly farads: number }
  | { readonly kind: 'flux'; readonly branch: number; readonly henries: number };

/** What a slow loop may ask of the solved circuit. */
export interface RefineContext {
  /**
   * Small-signal admittance of everything *else*, seen between two pins of this device.
   *
   * @param hertz Frequency, in hertz (Hz).
   * @returns Conductance and susceptance, in siemens (S).
   */
  readonly admittanceAround: (plus: number, minus: number, hertz: number) => readonly [number, number];
}

/** A figure of the operating point: watts, volts or amperes in one part. */
export interface DeviceFigure {
  readonly what: string;
  readonly unit: string;
  readonly value: number;
}

/** Checks the shape of a device at load time and returns it unchanged. */
export function defineDevice<const Definition extends Device>(definition: Definition): Definition {
  const names = [...definition.pins, ...(definition.branches ?? [])];
  if (new Set(names).size !== names.length) {
    throw new Error(`${definition.name}: pins and branches need different names`);
  }
  return definition;
}
