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
  /** The mean current is given; the ripple about the mean sees the conductance and the branch. */
  | {
      readonly kind: 'mean';
      readonly amps: number;
      readonly siemens: number;
      readonly branch?: LoadBranch | null;
    };

/**
 * A branch of the load that reacts late: i = siemens·w, seconds·dw/dt = v − w.
 *
 * Negative siemens beside a conductance make a filter resistor with its capacitor, positive ones a choke
 * with its resistance: at the ripple frequency and its harmonics neither is a plain conductance.
 */
export interface LoadBranch {
  readonly siemens: number;
  readonly seconds: number;
}
