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
  if (to <= knee || from >= straight || Math.abs(to - from) <= 2 * spread) return to;
  if (from <= 0) return Math.min(to, knee);
  const rise = 1 + (to - from) / spread;
  return rise > 0 ? Math.min(from + spread * Math.log(rise), Math.max(straight, from)) : knee;
}
