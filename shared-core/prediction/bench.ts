/** The builder's bench: what the predictions need to know about it, and what safety asks of it. */
export interface Bench {
  readonly mains: {
    /** In volts rms (V). */
    readonly volts: number;
    readonly hertz: number;
    /** Measured with the builder's meter (±1 %) or assumed to be nominal (±6 %). */
    readonly source: 'measured' | 'assumed';
  };
  readonly meter: {
    readonly label: string;
    /** A fixed input resistance, in ohms (Ω), or one that follows the range, in ohms per volt (Ω/V). */
    readonly input:
      | { readonly kind: 'fixed'; readonly ohms: number }
      | { readonly kind: 'per-volt'; readonly ohmsPerVolt: number };
    /** Relative accuracy of DC volts, AC volts and ohms: 0.01 is 1 %. */
    readonly accuracy: { readonly dcVolts: number; readonly acVolts: number; readonly ohms: number };
    /** Highest DC voltage it may meet, in volts (V). */
    readonly ratedVolts: number;
    /** Measurement category of meter and leads, the lower of the pair. */
    readonly category: 'none' | 'CAT II' | 'CAT III' | 'CAT IV';
    /** On its ohms ranges; left out it is `plainOhmsTest`. */
    readonly ohmsTest?: OhmsTest;
  };
  readonly leads: {
    /** In volts (V). */
    readonly ratedVolts: number;
    /** What the meter shows with the probes touching, in ohms (Ω). */
    readonly ohms: number;
  };
  /** Watts of the limiter's filament lamp (W); null when the builder has none. */
  readonly lampWatts: number | null;
  /** A battery for showing that the meter works, as marked, in volts (V); null when there is none. */
  readonly batteryVolts: number | null;
  readonly hasInsulationTester: boolean;
}

/** What a meter puts across the circuit when it measures ohms. */
export interface OhmsTest {
  /** Between the probes at full scale, in volts (V): from about half a volt on, diodes conduct. */
  readonly volts: number;
  /** The lead with the plus of its battery: on many pointer meters the black one. */
  readonly plusOn: 'red' | 'black';
}

/** A digital meter's, below the knee of silicon: common practice, no source. */
export const plainOhmsTest: OhmsTest = { volts: 0.4, plusOn: 'red' };

/** What is really in the amplifier, where that differs from the kit file. */
export interface Fitted {
  /** Part to its measured value in the part's SI unit (Ω, F, H). */
  readonly measured: Readonly<Record<string, number>>;
  /** Socket to the valve type in it. */
  readonly valves: Readonly<Record<string, string>>;
}

/** A 10 MΩ, 1 % meter on nominal 230 V mains: the bench of the command line until told otherwise. */
export const plainBench: Bench = {
  mains: { volts: 230, hertz: 50, source: 'assumed' },
  meter: {
    label: 'digital, 10 MΩ',
    input: { kind: 'fixed', ohms: 10e6 },
    accuracy: { dcVolts: 0.01, acVolts: 0.015, ohms: 0.01 },
    ratedVolts: 1000,
    category: 'CAT II',
  },
  leads: { ratedVolts: 1000, ohms: 0.2 },
  lampWatts: 60,
  batteryVolts: 9,
  hasInsulationTester: false,
};
