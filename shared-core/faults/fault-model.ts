import { meterSpread, readingFloors } from '../bands/draw-readings.ts';
import { computeBands, type ConditionBands } from '../bands/predict-bands.ts';
import { joinReadings, type JointReadings, mainsDriftShare, repeatability } from '../bands/predict-build.ts';
import { SampleBook } from '../bands/sample-book.ts';
import { type Spread, spreadMoments } from '../bands/spread.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import type { BuiltKit } from './fault.ts';
import type { FaultPriors } from './fault-priors.ts';
import { priorOf } from './fault-priors.ts';
import { type FaultCase, listFaultCases } from './list-faults.ts';
import { mergeAlike } from './merge-alike.ts';
import { measurableKit } from './measurable.ts';
import { openMoves, type SpreadMoves } from './moves.ts';
import { type PulseScale, pictureCondition, scalePulses } from './picture.ts';

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
  readonly conditions: readonly string[];
  /** Everything that scatters. */
  readonly spreads: readonly Spread[];
  /** Readings of simulated healthy builds, one column for each reading; null where it has no figure. */
  readonly builds: readonly (Float64Array | null)[];
  readonly joint: JointReadings;
  readonly faults: readonly ModelledFault[];
}

/** Healthy builds behind the limit of the gate. */
const gateBuilds = 20000;

/** Seed of the draws, the same as that of the bands. */
const modelSeed = 1;

/** The quick pictures of faults may be off by this share of what the fault moves: see the study of faults. */
const shiftError = 0.01;

/** A reading that only a fault has a figure for: one standard deviation, relative. */
const strangeSigma = 0.05;

/** Reports how many faults of how many are done; true asks to stop. */
export type Progress = (done: number, all: number) => boolean | void;

/** The healthy side of a model: everything but the faults. */
export function openHealthy(
  chosen: ChosenKit,
  bench: Bench,
  fitted: Fitted,
  priors: FaultPriors,
  builds = gateBuilds,
): HealthyModel {
  const measurable = dropUnseen(measurableKit(chosen), bench, fitted);
  const { readings } = measurable;
  const book = new SampleBook(modelSeed, builds);
  const conditions = [...new Set(readings.map((reading) => reading.in))];
  const bands = conditions.flatMap((id) => computeBands(measurable, id, bench, fitted, book) ?? []);
  const joint = joinReadings(bands, bench, book);
  const place = new Map(joint.ids.map((id, index) => [id, index]));
  const built: BuiltKit = { chosen: measurable, fitted, flaw: {} };
  const quantities = listQuantities(bands, conditions);
  const pulses = new Map(conditions.map((id) => [id, scalePulses(built, id, bench)]));
  const pictures = conditions.map((id) =>
    pictureCondition(built, id, ownReadings(readings, id), bench, { pulses: pulses.get(id) }),
  );
  const quick = gather(readings, pictures);
  const values = quick.map((value, index) => {
    const column = place.get(readings[index]?.id ?? '');
    if (column !== undefined) return joint.centre[column] ?? Number.NaN;
    return value === Infinity ? Infinity : Number.NaN;
  });
  const factors = healthyFactors(bands, readings, quantities, bench, values);
  const moves = new Map(conditions.map((id, index) => [id, openMoves(pictures[index]!, bandsOf(bands, id))]));
  return {
    ...{
      chosen: measurable,
      bench,
      fitted,
      priors,
      readings,
      quantities,
      joint,
      conditions,
      quick,
      moves,
      pulses,
    },
    spreads: [
      ...new Map(bands.flatMap(({ spreads }) => spreads.map((each) => [each.quantity, each]))).values(),
    ],
    healthy: { values, factors, own: ownVariances(readings, values, values) },
    builds: readings.map(({ id }) => joint.healthy[place.get(id) ?? -1] ?? null),
  };
}

/** A model whose faults are not yet computed. */
export interface HealthyModel extends Omit<FaultModel, 'faults'> {
  /** The quick picture of the healthy amplifier, which those of the faults are compared with. */
  readonly quick: Float64Array;
  readonly moves: ReadonlyMap<string, SpreadMoves>;
  /** What the rectifiers draw in the healthy amplifier, by condition. */
  readonly pulses: ReadonlyMap<string, PulseScale>;
}

function bandsOf(bands: readonly ConditionBands[], id: string): ConditionBands | undefined {
  return bands.find(({ prediction }) => prediction.condition === id);
}

function ownReadings(readings: readonly Reading[], condition: string): readonly Reading[] {
  return readings.filter((reading) => reading.in === condition);
}

/** Offers of our own that show nothing in a sound amplifier are not worth their time. */
function dropUnseen(measurable: ChosenKit, bench: Bench, fitted: Fitted): ChosenKit {
  const cold = measurable.conditions.find(({ supply }) => supply === 'unplugged');
  if (!cold) return measurable;
  const own = ownReadings(measurable.readings, cold.id);
  const { values } = pictureCondition({ chosen: measurable, fitted, flaw: {} }, cold.id, own, bench);
  const unseen = new Set(
    own.flatMap(({ id }, index) => (id.endsWith(' ohms') && !Number.isFinite(values[index]) ? [id] : [])),
  );
  return { ...measurable, readings: measurable.readings.filter(({ id }) => !unseen.has(id)) };
}

function gather(
  readings: readonly Reading[],
  pictures: readonly { readonly readings: readonly Reading[]; readonly values: Float64Array }[],
): Float64Array {
  const values = new Map(
    pictures.flatMap(({ readings: own, values: shown }) => own.map(({ id }, index) => [id, shown[index]!])),
  );
  return Float64Array.from(readings, ({ id }) => values.get(id) ?? Number.NaN);
}

function listQuantities(bands: readonly ConditionBands[], conditions: readonly string[]): readonly string[] {
  const names = new Set(bands.flatMap(({ spreads }) => spreads.map(({ quantity }) => quantity)));
  return [
    ...names,
    ...conditions.map((id) => `mains in ${id}`),
    ...['dc volts', 'ac volts', 'ohms', 'gain'].map((measure) => `meter ${measure}`),
  ];
}

/** One standard deviation of a quantity. */
export function sigmaOf(spread: Spread): number {
  return Math.sqrt(spreadMoments(spread).variance);
}

function healthyFactors(
  bands: readonly ConditionBands[],
  readings: readonly Reading[],
  quantities: readonly string[],
  bench: Bench,
  values: Float64Array,
): Float32Array {
  const width = quantities.length;
  const factors = new Float32Array(readings.length * width);
  const column = new Map(quantities.map((name, index) => [name, index]));
  const row = new Map(readings.map(({ id }, index) => [id, index]));
  for (const { prediction, spreads, moved } of bands) {
    for (const { reading, fits } of moved) {
      const at = (row.get(reading.id) ?? 0) * width;
      spreads.forEach((spread, index) => {
        const slope = fits[index]?.slope ?? 0;
        setFactor(factors, at, column, spread.quantity, slope * sigmaOf(spread));
      });
      splitMains(factors, at, column, prediction.condition, bench);
    }
  }
  readings.forEach((reading, index) =>
    addMeter(factors, index * width, column, reading, bench, values[index]!),
  );
  return factors;
}

function setFactor(
  factors: Float32Array,
  at: number,
  column: ReadonlyMap<string, number>,
  quantity: string,
  value: number,
): void {
  const place = column.get(quantity);
  if (place !== undefined) factors[at + place] = value;
}

/** Takes the part of the mains that is drawn anew in each condition out of the common one. */
function splitMains(
  factors: Float32Array,
  at: number,
  column: ReadonlyMap<string, number>,
  condition: string,
  bench: Bench,
): void {
  const share = mainsDriftShare(bench);
  const whole = factors[at + (column.get('mains') ?? 0)] ?? 0;
  if (!column.has('mains')) return;
  setFactor(factors, at, column, 'mains', whole * Math.sqrt(1 - share));
  setFactor(factors, at, column, `mains in ${condition}`, whole * Math.sqrt(share));
}

function addMeter(
  factors: Float32Array,
  at: number,
  column: ReadonlyMap<string, number>,
  { measure }: Reading,
  bench: Bench,
  value: number,
): void {
  if (!Number.isFinite(value)) return;
  setFactor(factors, at, column, `meter ${measure}`, value * sigmaOf(meterSpread(bench, measure)));
}

/** A gain below this share of the healthy one drowns in hum and noise: common practice, no source. */
const leastGainShare = 0.005;

/** What a reading may be off by whatever the circuit does, to either side, in its SI unit. */
export function strayOf(measure: Reading['measure'], healthy: number): number {
  return measure === 'gain' ? leastGainShare * Math.abs(healthy) : readingFloors[measure];
}

/** What each reading has of its own: floor, a single look, and the error of a quick picture. */
function ownVariances(
  readings: readonly Reading[],
  values: Float64Array,
  healthy: Float64Array,
): Float64Array {
  return Float64Array.from(readings, ({ measure }, index) => {
    const value = values[index]!;
    if (!Number.isFinite(value)) return 0;
    const usual = healthy[index]!;
    const shift = Number.isFinite(usual)
      ? shiftError * Math.min(Math.abs(value - usual), Math.abs(value))
      : strangeSigma * value;
    return strayOf(measure, usual) ** 2 / 3 + (repeatability * value) ** 2 + shift ** 2;
  });
}

/** Every single fault of a kit with what it makes of every reading; null where it was asked to stop. */
export function modelFaults(model: HealthyModel, onProgress?: Progress): FaultModel | null {
  const healthy: BuiltKit = { chosen: model.chosen, fitted: model.fitted, flaw: {} };
  const cases = listFaultCases(healthy);
  const weights = cases.map(({ faults }) =>
    faults.reduce((sum, fault) => sum + priorOf(model.priors, fault), 0),
  );
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const faults: ModelledFault[] = [];
  for (const [index, fault] of cases.entries()) {
    if (onProgress?.(index, cases.length) === true) return null;
    faults.push({ fault, prior: weights[index]! / all, ...expectBuilt(model, fault.built) });
  }
  return { ...model, faults: mergeAlike(faults) };
}

/** What an amplifier with something wrong in it shows, by a quick picture beside the healthy one's. */
export function expectBuilt(model: HealthyModel, built: BuiltKit): Expectation {
  const { readings, quantities, bench, healthy, quick, conditions } = model;
  const width = quantities.length;
  const column = new Map(quantities.map((name, index) => [name, index]));
  const pictures = conditions.map((id) =>
    pictureCondition(built, id, ownReadings(readings, id), bench, { pulses: model.pulses.get(id) }),
  );
  const raw = gather(readings, pictures);
  const values = raw.map((value, index) => likeHealthy(value, quick[index]!, healthy.values[index]!));
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
  return { values, factors, own: ownVariances(readings, values, healthy.values) };
}

/**
 * The quick picture of a fault brought to the scale of the healthy figure: what the missing ripple correction
 * and the mean of the scatter do to the one they do to the other.
 */
function likeHealthy(value: number, quick: number, healthy: number): number {
  if (!Number.isFinite(value) || !Number.isFinite(quick) || !Number.isFinite(healthy)) return value;
  const ratio = quick === 0 ? 1 : healthy / quick;
  return ratio > 0.8 && ratio < 1.25 ? value * ratio : value + healthy - quick;
}
