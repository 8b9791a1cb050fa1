import { wrightOmega } from '../numerics/wright-omega.ts';

/** k·T/q at 300.15 K (27 °C), in volts (V), from the exact SI constants of 2019. */
export const thermalVolts = (1.380649e-23 * 300.15) / 1.602176634e-19;

/**
 * A junction in series with a resistance: solves `I = scale·exp((volts − ohms·I)/spread)` in closed form.
 *
 * T. C. Banwell and A. Jayakumar, Electronics Letters 36, 2000: the Wright omega function.
 *
 * @returns Current, in amperes (A), and slope, in siemens (S).
 */
export function junctionWithOhms(
  volts: number,
  scaleAmps: number,
  spread: number,
  ohms: number,
): readonly [number, number] {
  const omega = wrightOmega(volts / spread + Math.log((scaleAmps * ohms) / spread));
  return [(spread / ohms) * omega, omega / (ohms * (1 + omega))];
}

/** A step of Newton's that is left of this part of a current or more is near its goal, and stays as it is. */
const nearPart = 0.2;
/** Beyond nothing by more than this: it is not the tail that makes the step. */
const goalSlack = 0.02;
/** The furthest that a tail is followed in one step, in factors e. */
const longestTail = 6;

/**
 * How much longer than Newton's a step down an exponential tail has to be.
 *
 * Newton's step takes one factor e at a time, however small the current that the rest of the circuit asks for.
 * The step itself tells that current: where its tangent leaves a part ε of the present one, the exponential is
 * there −ln ε further down, not 1 − ε.
 *
 * @param change Relative change of the current along the step by its tangent; a tail has −1 … 0.
 * @returns Factor on the step, 1 or more.
 */
export function tailFactor(change: number): number {
  const left = 1 + change;
  if (left > nearPart || left < -goalSlack) return 1;
  return Math.max(1, Math.min(longestTail, -Math.log(Math.max(left, 1e-300))) / -change);
}

/**
 * Logarithmic limit of a step along an exponential (L. W. Nagel, SPICE2, ERL-M520, 1975, section 5), up to
 * where the series resistance takes over and the law is all but straight.
 */
export function limitJunction(
  from: number,
  to: number,
  spread: number,
  scaleAmps: number,
  ohms: number,
): number {
  // Where the exponential bends most, and where half of a further volt falls on the resistance.
  const knee = spread * Math.log(spread / (Math.SQRT2 * scaleAmps));
  const straight = spread * (1 + Math.log(spread / (scaleAmps * ohms)));
  const falls = (to - from) / spread;
  // Up to here less than a hundredth of a change falls on the resistance: a pure exponential.
  const pure = spread * Math.log((0.01 * spread) / (scaleAmps * ohms));
  if (from > 0 && from < pure && falls < 0) {
    // A goal below nothing means that the junction is to be shut. Below zero volts there is no tail.
    const factor = falls < -1 ? Math.max(1, longestTail / -falls) : tailFactor(falls);
    if (factor > 1) return Math.max(from + factor * (to - from), Math.min(0, to));
  }
  if (to <= knee || from >= straight || Math.abs(to - from) <= 2 * spread) return to;
  if (from <= 0) return Math.min(to, knee);
  const rise = 1 + (to - from) / spread;
  return rise > 0 ? Math.min(from + spread * Math.log(rise), Math.max(straight, from)) : knee;
}
