import type { LocalStamp } from '../circuit/device.ts';
import { tailFactor } from './junction.ts';

/** Above this the softplus equals its argument to the last bit (exp(−80) is 2·10⁻³⁵). */
const softplusLinearAbove = 80;

/** Below this screen voltage the clamp of `clampScreen` holds, in volts (V). */
const screenFloorVolts = 0.1;

/** Width of the rounded corner of `positiveRamp`, in volts (V): far inside the knee, which no data verify. */
const rampVolts = 1;

/** An anode thrown below zero from farther up lands in the knee first, at this part of it or of where it was. */
const landingPart = 0.1;
/** From the foot of the knee it lands here, in volts (V): still beside the conducting region. */
const crossingVolts = -2;

/**
 * ln(1 + exp(x)) that cannot overflow.
 *
 * @param x Pure number; the arguments of valve laws reach thousands.
 */
export function softplus(x: number): number {
  return x > softplusLinearAbove ? x : Math.log1p(Math.exp(x));
}

/** The derivative of `softplus`: 1 / (1 + exp(−x)). */
export function logistic(x: number): number {
  return x > softplusLinearAbove ? 1 : 1 / (1 + Math.exp(-x));
}

/**
 * Zero for a negative voltage, the voltage itself from `rampVolts` up, a cubic between.
 *
 * Value and first derivative are continuous, so that an anode at zero volts leaves Newton's method no kink;
 * above `rampVolts` the published law is untouched.
 *
 * @param volts Anode-to-cathode voltage, in volts (V).
 * @returns In volts (V).
 */
export function positiveRamp(volts: number): number {
  if (volts <= 0) return 0;
  if (volts >= rampVolts) return volts;
  const t = volts / rampVolts;
  return rampVolts * t * t * (2 - t);
}

/** The derivative of `positiveRamp`, a pure number. */
export function positiveRampSlope(volts: number): number {
  if (volts <= 0) return 0;
  if (volts >= rampVolts) return 1;
  const t = volts / rampVolts;
  return t * (4 - 3 * t);
}

/**
 * The screen voltage, held at 0.1 V or more, rounded (continuous slope) between 0 and 0.2 V.
 *
 * @param volts Screen-to-cathode voltage, in volts (V).
 * @returns In volts (V).
 */
export function clampScreen(volts: number): number {
  if (volts <= 0) return screenFloorVolts;
  if (volts >= 2 * screenFloorVolts) return volts;
  return screenFloorVolts + (volts * volts) / (4 * screenFloorVolts);
}

/** The derivative of `clampScreen`, a pure number. */
export function clampScreenSlope(volts: number): number {
  if (volts <= 0) return 0;
  return volts >= 2 * screenFloorVolts ? 1 : volts / (2 * screenFloorVolts);
}

/** 0 below zero volts, 1 from `rampVolts` up, smooth between: no electrode draws electrons at a negative voltage. */
export function gate(volts: number): number {
  if (volts <= 0) return 0;
  if (volts >= rampVolts) return 1;
  const t = volts / rampVolts;
  return t * t * (3 - 2 * t);
}

/** The derivative of `gate`, in 1/V. */
export function gateSlope(volts: number): number {
  if (volts <= 0 || volts >= rampVolts) return 0;
  const t = volts / rampVolts;
  return (6 * t * (1 - t)) / rampVolts;
}

/**
 * Largest safe step of an anode-to-cathode voltage.
 *
 * The law is flat below zero and nearly flat far above the knee: a Newton step taken from one side says
 * nothing about the other, and unlimited steps cycle between the two when the anode is open.
 *
 * @param last Accepted anode-to-cathode voltage, in volts (V).
 * @param next Proposed one, in volts (V).
 * @param kneeVolts Width of the knee, in volts (V).
 * @returns The proposed voltage, or the nearest safe one, in volts (V).
 */
export function limitAnodeVolts(last: number, next: number, kneeVolts: number): number {
  if (last > 0 && next < crossingVolts) {
    return last > rampVolts ? landingPart * Math.min(kneeVolts, last) : crossingVolts;
  }
  const highest = Math.max(last, crossingVolts) + kneeVolts;
  return last < kneeVolts && next > highest ? highest : next;
}

/**
 * Largest safe step of a screen-to-cathode voltage.
 *
 * Between 0 V and `rampVolts` the screen's current is shut; below it is nothing at all. A step over that slope
 * stops on it, or a screen that starves behind its resistor would be thrown from one flat side to the other.
 *
 * @param last Accepted screen-to-cathode voltage, in volts (V).
 * @param next Proposed one, in volts (V).
 */
export function limitScreenVolts(last: number, next: number): number {
  return last > rampVolts && next < rampVolts / 2 ? rampVolts / 2 : next;
}

/** Argument of the softplus below which a valve's current is an exponential of it, to a twentieth. */
export const cutoffBelow = -2.3;

/** Factors e of a step whose tangent asks for less than no current: something else pulls too, how far is not known. */
const blindTail = 4;

/** How often a step along a tail that bends is made shorter. */
const tailRounds = 3;

/**
 * Lengthens a Newton step that follows the tail of a valve that is all but cut off.
 *
 * @param last Local unknowns at which the law was evaluated.
 * @param next Those asked for; changed in place.
 * @param change Relative change of the current along the step by its tangent.
 * @param logAmps Logarithm of the current where the law is cut off, but for a constant.
 * @returns Whether the step was lengthened.
 */
export function followTail(
  last: Float64Array,
  next: Float64Array,
  change: number,
  parameters: Float64Array,
  logAmps: (unknowns: Float64Array, parameters: Float64Array) => number,
): boolean {
  let factor = change < -1 ? Math.max(1, blindTail / -change) : tailFactor(change);
  if (!(factor > 1)) return false;
  const goal = -change * factor;
  const from = logAmps(last, parameters);
  stretch(last, next, factor);
  for (let round = 0; round < tailRounds; round++) {
    const fallen = from - logAmps(next, parameters);
    if (fallen <= goal) break;
    // No number: beyond where the electrode draws current at all.
    const part = fallen < Infinity ? Math.max(goal / fallen, 1 / factor) : Math.max(0.5, 1 / factor);
    stretch(last, next, part);
    factor *= part;
  }
  return factor > 1;
}

function stretch(last: Float64Array, next: Float64Array, factor: number): void {
  for (let pin = 0; pin < next.length; pin++) next[pin] = last[pin]! + factor * (next[pin]! - last[pin]!);
}

/**
 * Stamps the grid of a valve whose anode (pin 0) is already stamped.
 *
 * Conduction is a diode with a resistance in one explicit, smooth law, Ig = (S/R)·ln(1 + exp((Vg − V0)/S)):
 * exponential below the onset V0, the resistance R above it. Ions of the residual gas carry a share of the
 * anode current out of the grid.
 *
 * @param grid Pin index of the grid.
 * @param pins Number of pins, the cathode last.
 * @param gridVolts Grid-to-cathode voltage, in volts (V).
 * @param parameters The device's parameters; `first` is the index of `gridOhms`, which `gridOnset`, `gridSlope`,
 *   `gasRatio` and `emission` follow.
 */
export function stampGrid(
  out: LocalStamp,
  grid: number,
  pins: number,
  gridVolts: number,
  parameters: Float64Array,
  first: number,
): void {
  const { residuals, derivatives } = out;
  const ohms = parameters[first]!;
  const slope = parameters[first + 2]!;
  const gasRatio = parameters[first + 3]!;
  const emission = parameters[first + 4]!;
  const x = (gridVolts - parameters[first + 1]!) / slope;
  residuals[grid] = emission * (slope / ohms) * softplus(x) - gasRatio * residuals[0]!;
  for (let column = 0; column < pins - 1; column++) {
    derivatives[grid * pins + column] = -gasRatio * derivatives[column]!;
  }
  derivatives[grid * pins + grid] = derivatives[grid * pins + grid]! + (emission / ohms) * logistic(x);
}

/**
 * Completes a stamp whose last pin is the cathode.
 *
 * The law is written in voltages to the cathode and sends every electrode's current out there: the cathode's
 * column is minus the sum of the others, and the cathode's row minus the sum of the rows above.
 */
export function closeAtCathode(out: LocalStamp, pins: number): void {
  const { residuals, derivatives } = out;
  const cathode = pins - 1;
  for (let row = 0; row < cathode; row++) {
    let sum = 0;
    for (let column = 0; column < cathode; column++) sum += derivatives[row * pins + column]!;
    derivatives[row * pins + cathode] = -sum;
  }
  for (let column = 0; column < pins; column++) {
    let sum = 0;
    for (let row = 0; row < cathode; row++) sum += derivatives[row * pins + column]!;
    derivatives[cathode * pins + column] = -sum;
  }
  let total = 0;
  for (let row = 0; row < cathode; row++) total += residuals[row]!;
  residuals[cathode] = -total;
}
