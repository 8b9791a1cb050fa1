import type { PartCommon, Place, Tolerance } from './part-common.ts';

/** Semiconductors beside the plain diode. */
export type SemiconductorPart = ZenerPart | LedPart | TransistorPart | RegulatorPart;

/** First place is the anode, which a Zener diode has on the less positive side. */
export interface ZenerPart extends PartCommon {
  readonly kind: 'zener';
  readonly type: string;
  /** At the test current, in volts (V). */
  readonly volts: number;
  /** Test current, in amperes (A). */
  readonly amps: number;
  /** Dynamic resistance at the test current, in ohms (Ω). */
  readonly ohms: number;
  readonly tolerance: Tolerance;
  readonly watts: number;
  readonly between: readonly [Place, Place];
}

/** First place is the anode. */
export interface LedPart extends PartCommon {
  readonly kind: 'led';
  readonly type: string;
  /** Forward voltage at `amps`, in volts (V). */
  readonly volts: number;
  readonly amps: number;
  readonly tolerance: Tolerance;
  /** Largest current, in amperes (A). */
  readonly maxAmps: number;
  readonly between: readonly [Place, Place];
}

/** Own terminals: `e`, `b`, `c` of a bipolar one, `g`, `d`, `s` of a MOSFET. */
export interface TransistorPart extends PartCommon {
  readonly kind: 'transistor';
  readonly type: string;
  readonly polarity: 'npn' | 'pnp' | 'n-channel' | 'p-channel';
  /** Current gain of a bipolar one. */
  readonly gain: number | null;
  /** Threshold of a MOSFET, in volts (V), and a point of its curve: amperes (A) at a gate voltage. */
  readonly gate: {
    readonly thresholdVolts: number;
    readonly volts: number;
    readonly amps: number;
  } | null;
  /** Of the gain, or of the threshold. */
  readonly tolerance: Tolerance;
  /** Collector to emitter or drain to source, in volts (V). */
  readonly maxVolts: number;
  readonly maxAmps: number;
  /** On the heat sink that the kit has for it, in watts (W). */
  readonly watts: number;
}

/** Own terminals: `in`, `out`, `adj` (the ground pin of a fixed one). */
export interface RegulatorPart extends PartCommon {
  readonly kind: 'regulator';
  readonly type: string;
  readonly polarity: 'positive' | 'negative';
  /** Between `out` and `adj`, in volts (V). */
  readonly volts: number;
  readonly tolerance: Tolerance;
  readonly dropoutVolts: number;
  /** Current limit, in amperes (A). */
  readonly amps: number;
  readonly leastLoadAmps: number;
  /** Out of the `adj` pin, in amperes (A). */
  readonly adjustAmps: number;
  /** Largest voltage between `in` and `out`, in volts (V). */
  readonly maxVolts: number;
  readonly watts: number;
}
