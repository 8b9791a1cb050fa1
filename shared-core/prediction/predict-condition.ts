import { SmallSignal } from '../circuit/small-signal.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Reading } from '../kit/kit.ts';
import type { Bench, Fitted } from './bench.ts';
import {
  type ConditionState,
  openCondition,
  plugVolts,
  signalId,
  solveCondition,
} from './condition-model.ts';
import { readWithMeter } from './dc-readings.ts';
import { defaultStops, type StopLimits } from './default-stops.ts';
import { lampLimiter } from './lamp-limiter.ts';
import type { MainsSolution } from './mains-network.ts';
import { neighboursOf } from './neighbours.ts';
import { type OhmsReading, readOhms } from './ohms-readings.ts';
import type { ConditionPrediction, ReadingPrediction } from './prediction.ts';
import { rateCondition } from './ratings.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import { starvedHeater, unknownValve } from './socket-trouble.ts';
import { warmUpVolts } from './warm-up.ts';
import { nominalWorld, readWorld } from './world.ts';

/** Frequency of the signal readings, in hertz (Hz). */
export const signalHertz = 1000;

/** What a reading comes to in one world. */
export interface ReadingFigure {
  readonly predicted: ReadingPrediction['predicted'];
  readonly value: number | null;
  readonly red: number;
  readonly black: number;
  readonly settleSeconds: number | null;
  readonly why: string | null;
}

/** The nominal figures of one condition with the state they were read from. */
export interface NominalCondition {
  readonly prediction: ConditionPrediction;
  readonly state: ConditionState;
  readonly readings: readonly Reading[];
  /** Stop limits of a reading whose band has these far ends, the kit's own first. */
  readonly stopsFor: (reading: Reading, lowest: number, highest: number) => StopLimits;
}

/**
 * Predicts one condition at nominal values, without bands.
 *
 * @returns Undefined for a condition that the kit does not have.
 */
export function predictNominal(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
): NominalCondition | undefined {
  const condition = chosen.conditions.find(({ id }) => id === conditionId);
  if (!condition) return undefined;
  const isLive = condition.supply !== 'unplugged';
  const model = openCondition(chosen, condition, bench, fitted, isLive ? 'hot' : 'cold');
  const state = solveCondition(model, nominalWorld, plugVolts(condition, bench));
  const readings = chosen.readings.filter((reading) => reading.in === conditionId);
  const figures = readFigures(state, readings);
  const warm = isLive ? warmUpVolts(chosen, condition, bench, fitted) : null;
  const context = { ...model.context, world: readWorld(nominalWorld) };
  const netVolts: Record<string, number> = {};
  for (const net of Object.keys(chosen.placesOf)) {
    netVolts[net] = isLive ? finite(state.volts(model.context.wiring.netAt(net))) : 0;
  }
  const stopsFor = (reading: Reading, lowest: number, highest: number): StopLimits => {
    const own = isLive
      ? defaultStops(context, reading, { lowest, highest, warmUpVolts: warm?.(reading) ?? 0 })
      : { stopAbove: null, stopBelow: null };
    return {
      stopAbove: reading.stopAbove ?? own.stopAbove,
      stopBelow: reading.stopBelow ?? own.stopBelow,
    };
  };
  const prediction: ConditionPrediction = {
    condition: conditionId,
    readings: readings.map((reading, index) => {
      const figure = figures[index] ?? nothing('not computed');
      const stops = stopsFor(reading, figure.value ?? 0, figure.value ?? 0);
      return describeReading(state, reading, figure, stops);
    }),
    ratings: rateCondition(chosen, condition, bench, fitted),
    netVolts,
    covariance: readings.map(() => readings.map(() => 0)),
    solve: {
      converged: state.converged,
      iterations: state.iterations,
      residualAmps: state.residualAmps,
    },
    ...lampOf(chosen, condition, bench, fitted),
  };
  return { prediction, state, readings, stopsFor };
}

function lampOf(
  chosen: ChosenKit,
  condition: Condition,
  bench: Bench,
  fitted: Fitted,
): Pick<ConditionPrediction, 'lamp'> {
  const lamp = lampLimiter(chosen, condition, bench, fitted);
  return lamp ? { lamp } : {};
}

/** Every reading of a condition at full depth: meters in place, one solution each. */
export function readFigures(state: ConditionState, readings: readonly Reading[]): readonly ReadingFigure[] {
  const metered = new Map(readWithMeter(state).map((reading) => [reading.id, reading]));
  const ohms = new Map(
    readings.some(({ measure }) => measure === 'ohms')
      ? readOhms(state.model, nominalWorld, 'both ways').readings.map((reading) => [reading.id, reading])
      : [],
  );
  return readings.map((reading) => {
    const stated = reading.expect !== null;
    const figure = ((): ReadingFigure => {
      const blocked = whyNot(state, reading);
      if (blocked !== null && !stated) return withProbes(state, reading, nothing(blocked));
      switch (reading.measure) {
        case 'dc volts': {
          const own = metered.get(reading.id);
          if (!own) return withProbes(state, reading, { ...nothing(null), predicted: 'value', value: 0 });
          if (!own.converged) return nothing('no operating point with the meter in place');
          const { volts: value, red, black } = own;
          return {
            predicted: 'value',
            value,
            red,
            black,
            settleSeconds: null,
            why: floatingWhy(state, reading),
          };
        }
        case 'ac volts': {
          const value = acVolts(state, reading);
          return withProbes(state, reading, { ...nothing(null), predicted: 'value', value });
        }
        case 'ohms': {
          const own = ohms.get(reading.id);
          if (!own) return nothing(null);
          const { ohms: value, settleSeconds } = own;
          const predicted = value === null ? 'overload' : 'value';
          return { ...nothing(otherWay(own, state.model.bench)), predicted, value, settleSeconds };
        }
        case 'gain':
          return withProbes(state, reading, {
            ...nothing(null),
            predicted: 'value',
            value: signalGain(state, reading),
          });
        default:
          return withProbes(state, reading, nothing('insulation is not computed'));
      }
    })();
    return stated ? statedFigure(reading, figure) : figure;
  });
}

/** What to know where a junction is in the way; null elsewhere. */
function otherWay({ reversed }: OhmsReading, { meter }: Bench): string | null {
  if (!reversed) return null;
  const shown = reversed.ohms === null ? 'OL' : `about ${formatQuantity(reversed.ohms, 'Ω', 2)}`;
  const other = (meter.ohmsTest?.plusOn ?? 'red') === 'red' ? 'black' : 'red';
  return `a junction is in the way: a meter whose ${other} lead carries the plus shows ${shown}`;
}

/** A stated reading keeps the computed probes and drops the computed figure. */
function statedFigure(reading: Reading, figure: ReadingFigure): ReadingFigure {
  const predicted = reading.expect?.overload ? 'overload' : 'value';
  return { ...figure, predicted, value: null, why: null };
}

function nothing(why: string | null): ReadingFigure {
  return { predicted: 'none', value: null, red: 0, black: 0, settleSeconds: null, why };
}

function withProbes(state: ConditionState, reading: Reading, figure: ReadingFigure): ReadingFigure {
  return { ...figure, red: placeVolts(state, reading.at), black: placeVolts(state, reading.against) };
}

/** The larger of DC volts and rms volts of a place against the chassis, with the sign of the DC, in volts (V). */
export function placeVolts(state: ConditionState, place: string): number {
  const net = state.model.context.wiring.netAt(place);
  const direct = finite(state.volts(net));
  const alternating = Math.abs(finite(state.mains.volts(net)));
  return alternating > Math.abs(direct) ? alternating : direct;
}

/** Volts rms between the two places of a reading, in volts (V). */
export function acVolts(state: ConditionState, reading: Reading): number {
  return acVoltsIn(state, state.mains, reading);
}

/** The same with another solution of the mains side. */
export function acVoltsIn({ model }: ConditionState, mains: MainsSolution, reading: Reading): number {
  const { wiring } = model.context;
  return Math.abs(mains.volts(wiring.netAt(reading.at)) - mains.volts(wiring.netAt(reading.against)));
}

/** Volts between the two places for a volt at every input, in phase, at 1 kHz. */
export function signalGain(state: ConditionState, reading: Reading): number {
  const { solver, model } = state;
  const inputs = state.elements.filter(({ id }) => id === signalId || id.startsWith(`${signalId} `));
  if (inputs.length === 0) return 0;
  const small = new SmallSignal(solver);
  const [red, black] = [reading.at, reading.against].map((place) => {
    const net = model.context.wiring.netAt(place);
    const isKnown = net === model.context.wiring.reference || solver.compiled.netIndex.has(net);
    if (!isKnown) return [0, 0];
    const parts = inputs.map(({ id }) =>
      small.transfer({ kind: 'parameter', element: id, name: 'volts' }, net, signalHertz),
    );
    return [sum(parts.map(([real]) => real)), sum(parts.map(([, imaginary]) => imaginary))];
  });
  return Math.hypot((red?.[0] ?? 0) - (black?.[0] ?? 0), (red?.[1] ?? 0) - (black?.[1] ?? 0));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

/** Why no figure is given; null where one is. */
export function whyNot(state: ConditionState, reading: Reading): string | null {
  const { condition } = state.model;
  if (condition.supply === 'lamp') return 'on the lamp limiter only short or no short is judged';
  if (condition.supply === 'variac') return 'on a variac only short or no short is judged';
  if (condition.supply === 'bench') return 'on a bench supply nothing is predicted';
  if (condition.supply === 'insulation-tester') return 'insulation is not computed';
  if (reading.measure === 'ohms') return null;
  const stranger = unknownValve(state);
  if (stranger !== null) return stranger;
  if (!state.converged) return state.why ?? 'no operating point was found';
  const starved = reading.measure === 'ac volts' ? null : starvedHeater(state);
  if (starved !== null) return starved;
  const { wiring } = state.model.context;
  const nets = [wiring.netAt(reading.at), wiring.netAt(reading.against)];
  const blocked = nets.flatMap((net) => state.supplies.notPredicted[net] ?? []);
  const anyBlocked = Object.values(state.supplies.notPredicted)[0];
  if (blocked[0] !== undefined) return blocked[0];
  if (anyBlocked !== undefined && reading.measure !== 'ac volts') return anyBlocked;
  if (reading.measure === 'dc volts' && nets.some((net) => state.supplies.alternating.has(net))) {
    return 'the voltage alternates here: there is no DC figure';
  }
  return null;
}

function floatingWhy(state: ConditionState, reading: Reading): string | null {
  const { wiring } = state.model.context;
  const nets = [wiring.netAt(reading.at), wiring.netAt(reading.against)];
  return nets.some((net) => state.floating.has(net))
    ? 'nothing ties this net to the chassis: it floats, and only the meter holds it'
    : null;
}

function describeReading(
  state: ConditionState,
  reading: Reading,
  figure: ReadingFigure,
  stops: StopLimits,
): ReadingPrediction {
  const { chosen } = state.model;
  const { id, at, against, measure, expect } = reading;
  // A net's label stands for the place it is written on.
  const touched = [chosen.nets[at] ?? at, chosen.nets[against] ?? against];
  const beside = new Set(touched.flatMap((place) => neighboursOf(chosen, place)));
  const neighbours = [...beside]
    .map((place) => ({ place, volts: placeVolts(state, place) }))
    .filter(({ volts }) => Math.abs(volts) > chosen.safeVolts);
  return {
    ...{ id, at, against, measure },
    unit: measure === 'gain' ? '' : measure === 'ohms' || measure === 'insulation' ? 'Ω' : 'V',
    predicted: figure.predicted,
    source: expect === null ? 'computed' : 'stated',
    nominal: figure.value,
    low: expect?.above ?? figure.value,
    high: expect?.below ?? figure.value,
    lowest: expect === null ? figure.value : null,
    highest: expect === null ? figure.value : null,
    ...stops,
    probes: { red: finite(figure.red), black: finite(figure.black) },
    neighbours: state.model.condition.supply === 'unplugged' ? [] : neighbours,
    settleSeconds: figure.settleSeconds,
    contributors: [],
    why: figure.why,
  };
}

/** Guards what leaves the core: a figure that is not finite becomes 0 and is never shown as computed. */
function finite(value: number): number {
  return Number.isFinite(value) ? value : 0;
}
