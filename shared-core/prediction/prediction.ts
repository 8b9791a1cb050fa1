import type { Measure, Place } from '../kit/kit.ts';
import type { Unit } from '../units/unit.ts';

/**
 * What one reading should show, for this kit, mains, valves and meter.
 *
 * `low`/`high` hold 98 % of healthy amplifiers (1–99 %), `lowest`/`highest` 99.8 % (0.1–99.9 %).
 * SI units; null where there is no figure, never NaN or Infinity.
 */
export interface ReadingPrediction {
  readonly id: string;
  readonly at: Place;
  readonly against: Place;
  readonly measure: Measure;
  readonly unit: Unit;
  /** `overload`: the meter shows OL. `none`: no verified model says; see `why`. */
  readonly predicted: 'value' | 'overload' | 'none';
  /** Computed from the circuit, or stated by the kit. */
  readonly source: 'computed' | 'stated';
  readonly nominal: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly lowest: number | null;
  readonly highest: number | null;
  readonly stopAbove: number | null;
  readonly stopBelow: number | null;
  /** Volts of both probes to the chassis, in volts DC or rms (V). */
  readonly probes: { readonly red: number; readonly black: number };
  /** Dangerous places next to the one to touch: "pin 7 beside it carries 245 V". */
  readonly neighbours: readonly { readonly place: Place; readonly volts: number }[];
  /** Cold ohms: how long the figure takes to settle, in seconds (s). */
  readonly settleSeconds: number | null;
  /** Largest contributors to the spread, by share of the variance, largest first. */
  readonly contributors: readonly { readonly what: string; readonly share: number }[];
  /** Why nothing is predicted, or what to know about the figure. */
  readonly why: string | null;
}

/** A rating of a part and what the condition asks of it. */
export interface RatingFigure {
  readonly part: string;
  /** "dissipation", "voltage", "cathode current", "peak current", "heater" … */
  readonly what: string;
  readonly unit: string;
  readonly value: number;
  readonly limit: number;
  readonly percent: number;
  /** Design-centre ratings are compared at nominal mains, the others at high mains. */
  readonly basis: 'design-centre' | 'design-maximum' | 'absolute' | 'warm-up';
}

/** How the operating point was found. */
export interface SolveFacts {
  readonly converged: boolean;
  readonly iterations: number;
  /** Worst violation of the current law, in amperes (A). */
  readonly residualAmps: number;
}

/** One condition's predictions. */
export interface ConditionPrediction {
  readonly condition: string;
  readonly readings: readonly ReadingPrediction[];
  readonly ratings: readonly RatingFigure[];
  /** DC volts of every net to the chassis, in volts (V): for the sockets at a glance. */
  readonly netVolts: Readonly<Record<string, number>>;
  /**
   * Covariance of the readings, row by row in the order of `readings`, in products of their units: kept for
   * conditioning. Rows of readings without a computed figure are 0.
   */
  readonly covariance: readonly (readonly number[])[];
  readonly solve: SolveFacts;
  /** Only on the lamp limiter. */
  readonly lamp?: LampFigures;
}

/** The lamp limiter, settled: whether there is a short shows in the lamp. */
export interface LampFigures {
  /** Of the lamp at its rated voltage, in watts (W). */
  readonly watts: number;
  /** What the mains leaves to each, in volts rms (V), and the current through both, in amperes rms (A). */
  readonly lampVolts: number;
  readonly amplifierVolts: number;
  readonly amps: number;
  /** Part of its rated power, 0 to 1. */
  readonly powerShare: number;
  readonly looks: 'dark' | 'dim' | 'bright';
  /** Of each heater on alternating current, in volts rms (V). */
  readonly heaterVolts: Readonly<Record<string, number>>;
}

/** A voltage against time, sampled closely enough to draw and to interpolate in logarithms. */
export interface DrainCurve {
  readonly seconds: readonly number[];
  readonly volts: readonly number[];
}

/** One store: a capacitor that can hold a dangerous charge. */
export interface StorePrediction {
  /** The capacitor's part id. */
  readonly part: string;
  /** Where to measure it: across its own two ends. */
  readonly plus: Place;
  readonly minus: Place;
  /** Highest voltage before the plug comes out, in volts (V). */
  readonly volts: number;
  /** Stored energy at that voltage, in joules (J). */
  readonly joules: number;
  /** Time to below the safe voltage, in seconds (s); null when there is no path. */
  readonly fastSeconds: number | null;
  readonly likelySeconds: number | null;
  readonly slowSeconds: number | null;
  readonly fast: DrainCurve;
  readonly likely: DrainCurve;
  readonly slow: DrainCurve;
  /** After one condition alone, by its id: what was fitted and charged there, and nothing else. Absent in old records. */
  readonly after?: Readonly<Record<string, ConditionDrain>>;
}

/** How one store drains after one condition; *slow* stays that of the worst one. */
export interface ConditionDrain {
  readonly fastSeconds: number | null;
  readonly likelySeconds: number | null;
  readonly fast: DrainCurve;
  readonly likely: DrainCurve;
}

/** After the plug is out. */
export interface DrainPrediction {
  readonly safeVolts: number;
  readonly stores: readonly StorePrediction[];
}
