import type {
  Caution,
  Condition,
  GateProof,
  Measure,
  Place,
  Reach,
  Reading,
  StepAction,
} from '../kit/kit.ts';
import type { StorePrediction } from '../prediction/prediction.ts';

/**
 * What the safety rules need to know about the chosen kit on this bench.
 *
 * Plain JSON, derived from kit, prediction and bench. SI units. A missing figure is null, and null is
 * never read as "harmless".
 */
export interface SafetyFacts {
  readonly kitHash: string;
  readonly revision: string;
  /** Below this a touch is permitted, in volts DC (V); never above 60. */
  readonly safeVolts: number;
  readonly stores: readonly StorePrediction[];
  /** Mains that the chosen transformer is made for, in volts rms (V); null when not known. */
  readonly primaryVolts: number | null;
  readonly conditions: readonly ConditionFacts[];
  /** In the order of the kit. */
  readonly steps: readonly StepFacts[];
  readonly readings: readonly ReadingFacts[];
  readonly fuses: readonly FuseFacts[];
  readonly fixedBias: readonly FixedBiasFacts[];
  /** Every valve socket of the chosen kit. */
  readonly sockets: readonly string[];
  /** The condition on the lamp limiter that follows any work inside; null when the kit has none. */
  readonly lampStage: string | null;
  /** Net to the cold readings repeated after work on it: its own and its neighbours'. */
  readonly coldReadingsOf: Readonly<Record<string, readonly string[]>>;
  /** Cold readings from HT to chassis, repeated after any work inside. */
  readonly htToChassis: readonly string[];
  /** Places to their nets, so that work recorded by place is known by net. */
  readonly netOf: Readonly<Record<Place, string>>;
}

export interface ConditionFacts {
  readonly id: string;
  readonly title: string;
  readonly supply: Condition['supply'];
  readonly fitted: 'all' | readonly string[];
  /** True when every valve is in. */
  readonly allValves: boolean;
  readonly lampWatts: number | null;
  /** Highest volts a probe may meet here, high mains and unloaded, in volts (V); null when not known. */
  readonly maxVolts: number | null;
  /** A reading here touches the mains side: meter and leads need CAT II. */
  readonly hasMainsSideReadings: boolean;
  readonly readyAfterSeconds: number;
  readonly cautions: readonly CautionFacts[];
}

/** A caution with a name of its own: `running:0` for a condition, `fit-c5:0` for a step. */
export interface CautionFacts extends Caution {
  readonly id: string;
}

export interface StepFacts {
  readonly id: string;
  readonly title: string;
  readonly chapter: string;
  readonly reach: Reach;
  readonly action: StepAction;
  /** The condition the amplifier is in during the step; null where it does not matter. */
  readonly condition: string | null;
  /** A later plug-in waits for it. */
  readonly required: boolean;
  /** Works on the wiring before the transformer. */
  readonly mainsSide: boolean;
  /** Nothing but valves put into sockets: not "work inside" in the sense of rule 11. */
  readonly onlyValves: boolean;
  /** Nets of the places soldered in this step. */
  readonly nets: readonly string[];
  readonly cautions: readonly CautionFacts[];
  readonly inspect: readonly string[];
}

export interface ReadingFacts {
  readonly id: string;
  readonly title: string;
  readonly at: Place;
  readonly against: Place;
  readonly measure: Measure;
  readonly in: string;
  readonly expect: Reading['expect'];
  /** Stop limits with sign, in the reading's SI unit; for a live reading at least one is given. */
  readonly stopAbove: number | null;
  readonly stopBelow: number | null;
  readonly proves: GateProof | null;
  /** OL is what the circuit shows here. */
  readonly expectsOverload: boolean;
  /** Live volts where nothing at all would pass: a probe that touches nothing reads the same. */
  readonly readsLikeOpen: boolean;
  readonly mainsSide: boolean;
  /** Highest volts of either probe to chassis, in volts (V); null when not known. */
  readonly probeVolts: number | null;
  /** Stores with an end on one of the two nets. */
  readonly joinedStores: readonly string[];
}

export interface FuseFacts {
  readonly part: string;
  readonly amps: number;
  readonly volts: number;
  readonly speed: 'F' | 'T';
  /** On the mains side: its marking is read back before the first plug-in. */
  readonly mainsSide: boolean;
}

/** An output valve whose bias is set from a negative supply. */
export interface FixedBiasFacts {
  readonly socket: string;
  /** Bias readings at this socket's own grid pin, taken with the valve out. */
  readonly readings: readonly string[];
  /** Adjusters that must stand at most negative. */
  readonly adjusters: readonly string[];
}
