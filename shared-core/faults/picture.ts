import { SmallSignal } from '../circuit/small-signal.ts';
import type { Condition, Reading, ValvePart } from '../kit/kit.ts';
import type { Bench } from '../prediction/bench.ts';
import {
  type ConditionState,
  openCondition,
  plugVolts,
  type SolveDepth,
  solveCondition,
} from '../prediction/condition-model.ts';
import { type MainsSolution, type PulseLoad, solveMainsNetwork } from '../prediction/mains-network.ts';
import { readByTangent, readWithMeter } from '../prediction/dc-readings.ts';
import { ohmsReadings, readOhms } from '../prediction/ohms-readings.ts';
import { acVoltsIn, signalGain, whyNot } from '../prediction/predict-condition.ts';
import { valveInSocket } from '../prediction/valve-elements.ts';
import type { BuiltKit } from './fault.ts';

/** A heater below this share of its voltage leaves its valve cold: common practice, no source. */
const coldHeaterShare = 0.4;

/** What an amplifier shows in one condition. */
export interface ConditionPicture {
  readonly readings: readonly Reading[];
  /** In SI units; ∞ is OL, NaN is not predicted. */
  readonly values: Float64Array;
  /** Null where no operating point was found, and in cold conditions. */
  readonly state: ConditionState | null;
}

/** How a picture is taken. */
export interface PictureOptions {
  /** `full` for amplifiers that are simulated. */
  readonly depth?: SolveDepth;
  /** What the rectifiers draw in the healthy amplifier: their current's shape, for the AC readings. */
  readonly pulses?: PulseScale | undefined;
}

/** What each supply of a condition draws from its windings, for each ampere that it gives. */
export type PulseScale = readonly (readonly PulseLoad[])[];

/** The pulses of the healthy amplifier, by ampere of each supply's mean current. */
export function scalePulses(built: BuiltKit, conditionId: string, bench: Bench): PulseScale {
  const condition = built.chosen.conditions.find(({ id }) => id === conditionId);
  if (!condition || condition.supply === 'unplugged') return [];
  const state = solveWarm(built, condition, bench, 'full');
  return state.supplies.found.map(({ id, windings }, index) => {
    const amps = supplyAmps(state, id);
    return windings.flatMap((own, phase) => {
      const figures = state.waveforms[index]?.phases[phase];
      if (!figures || amps <= 0) return [];
      const load = { sineAmps: figures.sineAmps / amps, rmsAmps: figures.rmsAmps / amps };
      return own.map((winding) => ({ winding, ...load }));
    });
  });
}

function supplyAmps(state: ConditionState, id: string): number {
  return state.converged ? -(state.solver.evaluateElement(id).stamp.residuals[0] ?? 0) : 0;
}

/** The mains side with the healthy pulses in proportion to what each supply gives now. */
function mainsWithPulses(state: ConditionState, scale: PulseScale): MainsSolution {
  const loads = new Map<string, PulseLoad>();
  state.supplies.found.forEach(({ id }, index) => {
    const amps = Math.max(0, supplyAmps(state, id));
    for (const { winding, sineAmps, rmsAmps } of scale[index] ?? []) {
      const sum = loads.get(winding);
      loads.set(winding, {
        winding,
        sineAmps: (sum?.sineAmps ?? 0) + sineAmps * amps,
        rmsAmps: Math.hypot(sum?.rmsAmps ?? 0, rmsAmps * amps),
      });
    }
  });
  return loads.size > 0 ? solveMainsNetwork(state.network, [...loads.values()]) : state.mains;
}

/**
 * What an amplifier shows in one condition, the quick way: supplies without ripple correction, a little high
 * (0.1 to 2 %), meters by the tangent.
 *
 * A valve whose heater gets next to nothing is taken as cold: it conducts no more than an empty socket.
 */
export function pictureCondition(
  built: BuiltKit,
  conditionId: string,
  readings: readonly Reading[],
  bench: Bench,
  { depth = 'upper', pulses }: PictureOptions = {},
): ConditionPicture {
  const values = new Float64Array(readings.length).fill(Number.NaN);
  const condition = built.chosen.conditions.find(({ id }) => id === conditionId);
  if (!condition) return { readings, values, state: null };
  if (condition.supply === 'unplugged') {
    readCold(built, condition, readings, bench, values);
    return { readings, values, state: null };
  }
  const state = solveWarm(built, condition, bench, depth);
  if (!state.converged) return { readings, values, state: null };
  const metered = readMetered(state);
  const mains = depth === 'upper' && pulses ? mainsWithPulses(state, pulses) : state.mains;
  readings.forEach((reading, index) => {
    if (whyNot(state, reading) !== null) return;
    if (reading.measure === 'ac volts') values[index] = acVoltsIn(state, mains, reading);
    if (reading.measure === 'gain') values[index] = signalGain(state, reading);
    if (reading.measure !== 'dc volts') return;
    const meter = state.model.meters.findIndex(({ id }) => id === reading.id);
    values[index] = meter < 0 ? 0 : (metered[meter] ?? Number.NaN);
  });
  return { readings, values, state };
}

/** A meter that seems to pull a voltage down this far is solved for: the circuit there may not be straight. */
const straightShare = 0.8;

/** DC readings by the tangent; in full where an unloaded rectifier would bend it. */
function readMetered(state: ConditionState): Float64Array {
  const metered = readByTangent(state);
  const { meters, context } = state.model;
  const isBent = meters.some(({ at, against }, index) => {
    const [plus, minus] = [at, against].map((place) => state.volts(context.wiring.netAt(place)));
    const plain = Math.abs((plus ?? 0) - (minus ?? 0));
    return plain > 1 && Math.abs(metered[index]!) < straightShare * plain;
  });
  return isBent ? Float64Array.from(readWithMeter(state), ({ volts }) => volts) : metered;
}

function readCold(
  { chosen, fitted, flaw }: BuiltKit,
  condition: Condition,
  readings: readonly Reading[],
  bench: Bench,
  values: Float64Array,
): void {
  const model = openCondition(chosen, condition, bench, fitted, 'cold', 'upper');
  const cold = readOhms(model, flaw);
  const order = ohmsReadings(model).map(({ id }) => id);
  readings.forEach(({ id }, index) => {
    const own = cold.readings[order.indexOf(id)];
    if (own) values[index] = own.ohms === null ? Infinity : own.ohms + bench.leads.ohms;
  });
}

/** Solves with every valve that stays cold left out. */
function solveWarm(built: BuiltKit, condition: Condition, bench: Bench, depth: SolveDepth): ConditionState {
  let current = condition;
  for (let round = 0; ; round += 1) {
    const model = openCondition(built.chosen, current, bench, built.fitted, 'hot', depth);
    const state = solveCondition(model, built.flaw, plugVolts(current, bench));
    const cold = state.converged && round < 3 ? coldValves(state) : [];
    if (cold.length === 0) return state;
    const valves = built.chosen.parts.flatMap(({ kind, id }) => (kind === 'valve' ? [id] : []));
    const fitted = (current.fitted === 'all' ? valves : current.fitted).filter((id) => !cold.includes(id));
    current = { ...current, fitted };
  }
}

function coldValves(state: ConditionState): readonly string[] {
  const { chosen, context } = state.model;
  const { wiring } = context;
  return chosen.parts
    .filter((part): part is ValvePart => part.kind === 'valve')
    .filter((part) => {
      const heaters = valveInSocket(context, part)?.heater.elements ?? [];
      const isFed = heaters.some(({ pins, volts }, index) => {
        const [one = 0, other = 0] = pins.map((pin) => state.volts(wiring.netAt(`${part.id}.${pin}`)));
        const alternating = state.mains.heaterVolts[`${part.id}#heater${index + 1}`] ?? 0;
        return Math.max(alternating, Math.abs(one - other)) >= coldHeaterShare * volts;
      });
      return heaters.length > 0 && !isFed;
    })
    .map(({ id }) => id);
}

/** Change of a reading for a change of a parameter of an element, in SI units; 0 for what is not there. */
export type ReadingSlope = (element: string, parameter: string) => number;

/** The slopes of every DC reading at the operating point, meter included; null for the others. */
export function slopesAt({ readings, values, state }: ConditionPicture): readonly (ReadingSlope | null)[] {
  if (!state) return readings.map(() => null);
  const { wiring } = state.model.context;
  const { compiled } = state.solver;
  const small = new SmallSignal(state.solver);
  return readings.map(({ measure, at, against }, index) => {
    const nets = [wiring.netAt(at), wiring.netAt(against)] as const;
    const isKnown = nets.every((net) => net === wiring.reference || compiled.netIndex.has(net));
    const value = values[index] ?? Number.NaN;
    if (measure !== 'dc volts' || !isKnown || nets[0] === nets[1] || !Number.isFinite(value)) return null;
    const volts = state.volts(nets[0]) - state.volts(nets[1]);
    const share = volts === 0 ? 1 : value / volts;
    const sensitivity = small.sensitivityOf(nets[0], nets[1]);
    return (element, parameter) => share * sensitivity(element, parameter);
  });
}
