import type { JointReadings } from '../bands/predict-build.ts';
import type { Spread } from '../bands/spread.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import { addMeter, likeHealthy, ownVariances, setFactor, splitMains } from './factors.ts';
import type { BuiltKit } from './fault.ts';
import type { FaultPriors } from './fault-priors.ts';
import type { FaultCase } from './list-faults.ts';
import type { SpreadMoves } from './moves.ts';
import { type PulseScale, pictureCondition } from './picture.ts';
import { type Stress, stressOf } from './signs.ts';

/** How the readings of an amplifier scatter: what is expected and what moves it. */
export interface Expectation {
  /** What the meter shows, in SI units; ∞ is OL, NaN is not predicted. */
  readonly values: Float64Array;
  /** Change of each reading by one standard deviation of each quantity: readings × quantities, row by row. */
  readonly factors: Float32Array;
  /** Variance of each reading that it shares with no other, in the square of its unit. */
  readonly own: Float64Array;
}

/** A fault with what it makes of every reading. */
export interface ModelledFault extends Expectation {
  /** How hard it is on the amplifier, for the signs. */
  readonly stress: Stress;
  readonly fault: FaultCase;
  /** Chance among all single faults, before anything was measured; they add up to 1. */
  readonly prior: number;
}

/** Everything that ranking needs, made once for a kit on a bench. */
export interface FaultModel {
  /** The kit with everything that could be measured as its readings. */
  readonly chosen: ChosenKit;
  readonly bench: Bench;
  readonly fitted: Fitted;
  readonly priors: FaultPriors;
  /** In the order of all values. */
  readonly readings: readonly Reading[];
  /** Names of the quantities, in the order of the factors' columns. */
  readonly quantities: readonly string[];
  readonly healthy: Expectation;
  /** The healthy amplifier's own. */
  readonly stress: Stress;
  readonly conditions: readonly string[];
  /** Everything that scatters. */
  readonly spreads: readonly Spread[];
  /** Readings of simulated healthy builds, one column for each reading; null where it has no figure. */
  readonly builds: readonly (Float64Array | null)[];
  readonly joint: JointReadings;
  readonly faults: readonly ModelledFault[];
}

/** A model whose faults are not yet computed. */
export interface HealthyModel extends Omit<FaultModel, 'faults'> {
  /** The quick picture of the healthy amplifier, which those of the faults are compared with. */
  readonly quick: Float64Array;
  readonly moves: ReadonlyMap<string, SpreadMoves>;
  /** What the rectifiers draw in the healthy amplifier, by condition. */
  readonly pulses: ReadonlyMap<string, PulseScale>;
}

/** The readings of one condition. */
export function ownReadings(readings: readonly Reading[], condition: string): readonly Reading[] {
  return readings.filter((reading) => reading.in === condition);
}

/** The values of all conditions in the order of the readings; NaN for what none of them has. */
export function gather(
  readings: readonly Reading[],
  pictures: readonly { readonly readings: readonly Reading[]; readonly values: Float64Array }[],
): Float64Array {
  const values = new Map(
    pictures.flatMap(({ readings: own, values: shown }) => own.map(({ id }, index) => [id, shown[index]!])),
  );
  return Float64Array.from(readings, ({ id }) => values.get(id) ?? Number.NaN);
}

/** What an amplifier with something wrong in it shows, by a quick picture beside the healthy one's. */
export function expectBuilt(
  model: HealthyModel,
  built: BuiltKit,
): Expectation & Pick<ModelledFault, 'stress'> {
  const { readings, quantities, bench, healthy, quick, conditions } = model;
  const width = quantities.length;
  const column = new Map(quantities.map((name, index) => [name, index]));
  const pictures = conditions.map((id) =>
    pictureCondition(built, id, ownReadings(readings, id), bench, { pulses: model.pulses.get(id) }),
  );
  const raw = gather(readings, pictures);
  const values = raw.map((value, index) => {
    const [plain, usual] = [quick[index]!, healthy.values[index]!];
    // A figure that the bands do not give (a model that is not verified there) is none in a fault either.
    return Number.isFinite(plain) && Number.isNaN(usual) ? usual : likeHealthy(value, plain, usual);
  });
  const factors = new Float32Array(readings.length * width);
  readings.forEach((_, index) => {
    const [value, usual] = [values[index]!, healthy.values[index]!];
    if (!Number.isFinite(value)) return;
    // What is not computed anew scatters as much, relative to its size, as in a healthy amplifier.
    const share = Number.isFinite(usual) && usual !== 0 ? value / usual : 0;
    for (let at = index * width; at < (index + 1) * width; at += 1) {
      factors[at] = (healthy.factors[at] ?? 0) * share;
    }
  });
  const row = new Map(readings.map(({ id }, index) => [id, index]));
  pictures.forEach((picture, index) => {
    const id = conditions[index]!;
    model.moves.get(id)?.(
      picture,
      (reading, quantity, change) => {
        const at = (row.get(reading) ?? 0) * width;
        setFactor(factors, at, column, quantity, change);
      },
      (reading) => splitMains(factors, (row.get(reading) ?? 0) * width, column, id, bench),
    );
  });
  readings.forEach((reading, index) =>
    addMeter(factors, index * width, column, reading, bench, values[index]!),
  );
  const own = ownVariances(readings, values, healthy.values);
  return { values, factors, own, stress: stressOf(pictures, liveOf(model.chosen, conditions)) };
}

/** Which of some conditions are supplied. */
export function liveOf(chosen: ChosenKit, conditions: readonly string[]): readonly boolean[] {
  return conditions.map((id) => chosen.conditions.find((each) => each.id === id)?.supply !== 'unplugged');
}
