import type { PhaseCurve } from './rectifier-law.ts';

/** A rectifier supply at work: what feeds the reservoir and what draws from it. */
export interface ShootingProblem {
  /** Conducting on the positive half of the cycle, and on the negative half; `law` none where there is none. */
  readonly phases: readonly [PhaseCurve, PhaseCurve];
  readonly hertz: number;
  /** Reservoir and whatever else holds the voltage at the ripple frequency, in farads (F). */
  readonly farads: number;
  readonly load: ReservoirLoad;
}

/** What the reservoir is loaded with, in amperes (A), siemens (S) and volts (V). */
export type ReservoirLoad =
  /** i = amps + siemens·(v − volts): a resistor is `{ amps: 0, siemens: 1/R, volts: 0 }`. */
  | { readonly kind: 'line'; readonly amps: number; readonly siemens: number; readonly volts: number }
  /** The mean current is given; the ripple about the mean sees the conductance. */
  | { readonly kind: 'mean'; readonly amps: number; readonly siemens: number };
