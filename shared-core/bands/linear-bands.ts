import { SmallSignal } from '../circuit/small-signal.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import {
  type ConditionModel,
  type ConditionState,
  elementsMovedBy,
  mainsMovedBy,
  openCondition,
  plugVolts,
  solveCondition,
} from '../prediction/condition-model.ts';
import { ohmsReadings, readOhms } from '../prediction/ohms-readings.ts';
import { acVoltsIn, readFigures, signalGain } from '../prediction/predict-condition.ts';
import type { SolveFacts } from '../prediction/prediction.ts';
import { nominalWorld, type World } from '../prediction/world.ts';
import { meterSpread, readingFloors } from './draw-readings.ts';
import { listSpreads } from './list-spreads.ts';
import { probeDeviations, type Spread, spreadMoments } from './spread.ts';

/** A reading's first figure: nominal in full, the band by tangents. */
export interface LinearReading {
  readonly id: string;
  /** In the reading's SI unit; null where there is no computed figure. */
  readonly nominal: number | null;
  /** One standard deviation, in the same unit. */
  readonly sigma: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly lowest: number | null;
  readonly highest: number | null;
}

/** The fast first answer for one condition. */
export interface LinearBands {
  readonly condition: string;
  readonly readings: readonly LinearReading[];
  /** Covariance of the readings in their order, in products of their units; 0 without a figure. */
  readonly covariance: readonly (readonly number[])[];
  readonly solve: SolveFacts;
}

/** Standard deviations from the middle to the 1 % and 0.1 % points of a normal law. */
const innerSigmas = 2.3263;
const outerSigmas = 3.0902;

/**
 * Nominal readings and linearised bands of one condition, in a tenth of the time of the sampled ones.
 *
 * DC readings move by adjoint sensitivities (`SmallSignal.sensitivityOf`), AC volts by the mains side alone,
 * ohms by one difference each, gains by a solution each. The ripple stays as it is. To be shown until the
 * sampled bands are there; it has no stop limits, and no verdict rests on it.
 *
 * @returns Undefined for a condition that the kit does not have.
 */
export function linearBands(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
): LinearBands | undefined {
  const condition = chosen.conditions.find(({ id }) => id === conditionId);
  if (!condition) return undefined;
  const heat = condition.supply === 'unplugged' ? 'cold' : 'hot';
  const model = openCondition(chosen, condition, bench, fitted, heat);
  const state = solveCondition(model, nominalWorld, plugVolts(condition, bench));
  const readings = chosen.readings.filter((reading) => reading.in === conditionId);
  const figures = readFigures(state, readings);
  const values = readings.map(({ expect }, index) =>
    expect === null && figures[index]?.predicted === 'value' ? (figures[index]?.value ?? null) : null,
  );
  const cold = readings.some(({ measure }) => measure === 'ohms') ? readOhms(model, nominalWorld).asked : [];
  const { spreads } = listSpreads(state, new Set([...state.asked, ...cold]));
  const moves = movesOf(state, values);
  const columns = spreads.map((spread) => columnOf(spread, moves(spread), values));
  for (const measure of new Set(readings.map((reading) => reading.measure))) {
    const meter = meterSpread(bench, measure);
    const slopes = readings.map((reading, index) => (reading.measure === measure ? (values[index] ?? 0) : 0));
    columns.push({ mean: slopes.map(() => 0), deviation: slopes.map((slope) => slope * sigmaOf(meter)) });
  }
  const covariance = readings.map(({ measure }, row) =>
    readings.map((_, column) => {
      const floor = row === column && values[row] !== null ? readingFloors[measure] ** 2 / 3 : 0;
      return columns.reduce((sum, { deviation }) => sum + deviation[row]! * deviation[column]!, floor);
    }),
  );
  return {
    condition: conditionId,
    readings: readings.map(({ id }, index) => {
      const shift = columns.reduce((sum, { mean }) => sum + mean[index]!, 0);
      return band(id, values[index] ?? null, shift, Math.sqrt(covariance[index]?.[index] ?? 0));
    }),
    covariance,
    solve: { converged: state.converged, iterations: state.iterations, residualAmps: state.residualAmps },
  };
}

function band(id: string, nominal: number | null, shift: number, sigma: number): LinearReading {
  const edge = (sigmas: number): number | null =>
    nominal === null ? null : nominal + shift + sigmas * sigma;
  return {
    ...{ id, nominal, sigma, low: edge(-innerSigmas), high: edge(innerSigmas) },
    ...{ lowest: edge(-outerSigmas), highest: edge(outerSigmas) },
  };
}

function sigmaOf(spread: Spread): number {
  return Math.sqrt(spreadMoments(spread).variance);
}

/** Mean and one standard deviation of every reading by one quantity. */
function columnOf(
  spread: Spread,
  slopes: readonly number[],
  values: readonly (number | null)[],
): { readonly mean: readonly number[]; readonly deviation: readonly number[] } {
  const { mean, variance } = spreadMoments(spread);
  const sigma = Math.sqrt(variance);
  const kept = slopes.map((slope, index) => (values[index] !== null && Number.isFinite(slope) ? slope : 0));
  return { mean: kept.map((slope) => slope * mean), deviation: kept.map((slope) => slope * sigma) };
}

/** How far every reading goes with one quantity, per unit of its relative deviation. */
function movesOf(
  state: ConditionState,
  values: readonly (number | null)[],
): (spread: Spread) => readonly number[] {
  const { model } = state;
  const readings = model.chosen.readings.filter((reading) => reading.in === model.condition.id);
  const direct = directMoves(state, values);
  const hasAc = readings.some(({ measure }) => measure === 'ac volts');
  const hasOhms = readings.some(({ measure }) => measure === 'ohms');
  const hasGain = readings.some(({ measure }) => measure === 'gain');
  const order = hasOhms ? ohmsReadings(model).map(({ id }) => id) : [];
  const plain = model.bench.mains.volts === 0 ? 0 : plugVolts(model.condition, model.bench);
  const gainModel: ConditionModel | null = hasGain ? { ...model, solver: null, frozen: null } : null;
  return (spread) => {
    const [low, high] = probeDeviations(spread);
    const deviation = high === 0 ? low : high;
    const world: World = { [spread.quantity]: deviation };
    const dc = direct(world);
    const mains = hasAc && isAlternating(state, spread) ? mainsMovedBy(state, world, plain) : null;
    const ohms = hasOhms ? readOhms(model, world).readings : [];
    const signal = gainModel ? solveCondition(gainModel, world, plain) : null;
    return readings.map((reading, index) => {
      const value = values[index];
      if (value === null || value === undefined) return 0;
      switch (reading.measure) {
        case 'dc volts':
          return dc(index) / deviation;
        case 'ac volts':
          return mains ? (acVoltsIn(state, mains, reading) - value) / deviation : 0;
        case 'ohms':
          return ((ohms[order.indexOf(reading.id)]?.ohms ?? Number.NaN) - value) / deviation;
        case 'gain':
          return signal ? (signalGain(signal, reading) - value) / deviation : 0;
        default:
          return 0;
      }
    });
  };
}

/** Whether a quantity can move the mains side: not that of a part which no alternating voltage reaches. */
function isAlternating({ model, mains }: ConditionState, { quantity }: Spread): boolean {
  const part = model.chosen.parts.find(({ id }) => id === quantity || quantity.startsWith(`${id}.`));
  if (part?.kind === 'valve') return quantity === `${part.id}.heater`;
  // Without an owner: the mains itself, or the model of a valve type, whose pulses stay as they are.
  if (part === undefined) return quantity.startsWith('mains');
  if (part.kind === 'mains-transformer') return true;
  if (part.kind !== 'resistor') return false;
  return part.between.some((place) => mains.volts(model.context.wiring.netAt(place)) !== 0);
}

/** Change of a DC reading in a world, by the adjoint of each reading's two places. */
function directMoves(
  state: ConditionState,
  values: readonly (number | null)[],
): (world: World) => (index: number) => number {
  const { model, solver, elements } = state;
  const { wiring } = model.context;
  const readings = model.chosen.readings.filter((reading) => reading.in === model.condition.id);
  if (!model.meters.length || !state.converged) return () => () => 0;
  const small = new SmallSignal(solver);
  const adjoints = readings.map(({ measure, at, against }, index) => {
    const nets = [wiring.netAt(at), wiring.netAt(against)] as const;
    const isKnown = nets.every((net) => net === wiring.reference || solver.compiled.netIndex.has(net));
    if (measure !== 'dc volts' || nets[0] === nets[1] || !isKnown) return null;
    const volts = state.volts(nets[0]) - state.volts(nets[1]);
    const share = volts === 0 ? 1 : (values[index] ?? volts) / volts;
    return { share, sensitivity: small.sensitivityOf(nets[0], nets[1]) };
  });
  const before = new Map(elements.map((element) => [element.id, element.parameters]));
  return (world) => {
    const changes = elementsMovedBy(state, world, plugVolts(model.condition, model.bench)).flatMap(
      ({ id, parameters }) =>
        Object.entries(parameters).flatMap(([name, value]) => {
          const from = before.get(id)?.[name];
          return from === undefined || from === value ? [] : [{ id, name, by: value - from }];
        }),
    );
    return (index) => {
      const adjoint = adjoints[index];
      if (!adjoint) return 0;
      return (
        adjoint.share * changes.reduce((sum, { id, name, by }) => sum + by * adjoint.sensitivity(id, name), 0)
      );
    };
  };
}
