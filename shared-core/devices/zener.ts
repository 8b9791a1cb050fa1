import { thermalVolts } from './junction.ts';

/** A Zener diode as its data sheet states it. */
export interface StatedZener {
  /** Zener voltage at the test current, in volts (V). */
  readonly volts: number;
  /** Test current, in amperes (A). */
  readonly amps: number;
  /** Dynamic resistance at the test current, in ohms (Ω). */
  readonly ohms: number;
}

/** N of both junctions: 0.7 V forward at 10 mA with the saturation current below. */
const emissionFactor = 1.5;

/** Least resistance in breakdown, in ohms (Ω): what the diode device allows. */
const leastOhms = 1e-2;

/**
 * Parameters of the `diode` device for a Zener diode: anode first, so that it stands in reverse.
 *
 * The breakdown is exponential behind a resistance; both together have the stated voltage and the
 * stated dynamic resistance at the test current: r = R + N·kT/q/I. Where the sheet's resistance is less than
 * N·kT/q/I the exponential alone remains. The forward side is an ordinary silicon junction.
 */
export function zenerParameters({ volts, amps, ohms }: StatedZener): Readonly<Record<string, number>> {
  const breakdownOhms = Math.max(leastOhms, ohms - (emissionFactor * thermalVolts) / amps);
  return {
    saturationAmps: 1e-10,
    emissionFactor,
    seriesOhms: 0.5,
    breakdownVolts: volts - breakdownOhms * amps,
    breakdownOhms,
    breakdownAmps: amps,
  };
}
