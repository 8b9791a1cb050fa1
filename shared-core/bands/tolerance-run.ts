import type { CircuitElement } from '../circuit/circuit.ts';
import type { CompiledElement } from '../circuit/compile.ts';
import type { Solver } from '../circuit/solver.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import { seededRandom, seedOfText } from '../numerics/random.ts';
import type { Bench, Fitted } from '../prediction/bench.ts';
import {
  type ConditionState,
  elementsIn,
  elementsMovedBy,
  openCondition,
  plugVolts,
  solveCondition,
} from '../prediction/condition-model.ts';
import { readByTangent } from '../prediction/dc-readings.ts';
import { freezeRipple } from '../prediction/freeze-ripple.ts';
import { nominalWorld } from '../prediction/world.ts';
import { listSpreads } from './list-spreads.ts';
import { changeAt, fitResponse, type Response } from './response.ts';
import { drawDeviation, probeDeviations, type Spread } from './spread.ts';

/** Readings of many amplifiers, each solved. */
export interface ToleranceRun {
  /** Ids of the readings, in the order of the columns. */
  readonly readings: readonly string[];
  /** One row for each amplifier that converged, without the meter's own error, in SI units. */
  readonly rows: readonly Float64Array[];
  /** Amplifiers without an operating point. */
  readonly failed: number;
}

/** One parameter of the circuit and what moves it: its value is nominal × Π (1 + response). */
interface MovedParameter {
  readonly element: CompiledElement;
  readonly index: number;
  readonly nominal: number;
  /** Number of the spread, and the parameter's relative response to it. */
  readonly by: readonly (readonly [number, Response])[];
}

/** A condition made ready for many random amplifiers. */
export interface ToleranceBench {
  readonly readings: readonly string[];
  /**
   * Draws and solves amplifiers.
   *
   * @param samples How many.
   * @param seed Equal seeds give equal amplifiers.
   */
  readonly run: (samples: number, seed: number) => ToleranceRun;
}

/**
 * The DC readings of many random amplifiers, fast: every one a real operating point.
 *
 * The mains side enters through its response to each quantity, the ripple correction and the meter's
 * share are those of the nominal amplifier: together below 0.2 % of a reading (see the tests).
 *
 * @param samples How many amplifiers.
 * @param seed Equal seeds give equal amplifiers.
 */
export function toleranceRun(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
  samples: number,
  seed: number,
): ToleranceRun {
  const ready = openToleranceRun(chosen, conditionId, bench, fitted);
  return ready ? ready.run(samples, seed) : { readings: [], rows: [], failed: 0 };
}

/** Prepares a tolerance run: the nominal solution and what moves each parameter of the circuit. */
export function openToleranceRun(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
): ToleranceBench | undefined {
  const condition = chosen.conditions.find(({ id }) => id === conditionId);
  if (!condition) return undefined;
  const mainsVolts = plugVolts(condition, bench);
  const model = openCondition(chosen, condition, bench, fitted);
  const state = solveCondition(model, nominalWorld, mainsVolts);
  const metered = readByTangent(state);
  const probes = model.meters.map(({ at, against }, column): Probe => {
    const nets = [at, against].map((place) => model.context.wiring.netAt(place));
    const indices = nets.map((net) => state.solver.compiled.netIndex.get(net) ?? state.solver.size);
    const plain = state.volts(nets[0] ?? '') - state.volts(nets[1] ?? '');
    const share = plain === 0 ? 1 : (metered[column] ?? plain) / plain;
    return { plus: indices[0] ?? 0, minus: indices[1] ?? 0, share };
  });
  const { spreads } = listSpreads(state, state.asked);
  const moved = findMoved(state, spreads, mainsVolts);
  const solver = freezeRipple(state.solver);
  const readings = model.meters.map(({ id }) => id);
  return {
    readings,
    run: (samples, seed) => ({ readings, ...runSamples(solver, spreads, moved, probes, samples, seed) }),
  };
}

/** Unknowns of a reading's two nets, and the meter's share of the voltage between them. */
interface Probe {
  readonly plus: number;
  readonly minus: number;
  readonly share: number;
}

function runSamples(
  solver: Solver,
  spreads: readonly Spread[],
  moved: readonly MovedParameter[],
  probes: readonly Probe[],
  samples: number,
  seed: number,
): Pick<ToleranceRun, 'rows' | 'failed'> {
  const random = spreads.map(({ quantity }) => seededRandom((seed ^ seedOfText(quantity)) >>> 0));
  const deviations = new Float64Array(spreads.length);
  const { unknowns } = solver;
  const rows: Float64Array[] = [];
  for (let sample = 0; sample < samples; sample += 1) {
    spreads.forEach((spread, index) => {
      deviations[index] = drawDeviation(spread, random[index] ?? (() => 0.5));
    });
    for (const { element, index, nominal, by } of moved) {
      let value = nominal;
      for (const [spread, response] of by) value *= 1 + changeAt(response, deviations[spread] ?? 0);
      solver.setParameterAt(element, index, value);
    }
    if (!solver.solve(true).converged) continue;
    rows.push(
      Float64Array.from(
        probes,
        ({ plus, minus, share }) => ((unknowns[plus] ?? 0) - (unknowns[minus] ?? 0)) * share,
      ),
    );
  }
  return { rows, failed: samples - rows.length };
}

function findMoved(
  state: ConditionState,
  spreads: readonly Spread[],
  mainsVolts: number,
): readonly MovedParameter[] {
  const { model, solver } = state;
  const nominal = elementsById(elementsIn(model, nominalWorld, mainsVolts));
  const probes = spreads.map((spread) => {
    const points = probeDeviations(spread);
    const worlds = points.map((deviation) =>
      elementsById(elementsMovedBy(state, { [spread.quantity]: deviation }, mainsVolts)),
    );
    return { points, worlds };
  });
  return [...nominal.values()].flatMap(({ id, device, parameters }) =>
    device.parameters.flatMap(({ name }, index): readonly MovedParameter[] => {
      const value = parameters[name];
      if (value === undefined || value === 0) return [];
      const by = probes.flatMap(({ points, worlds }, spread): readonly (readonly [number, Response])[] => {
        const [first, second] = worlds.map((world) => (world.get(id)?.parameters[name] ?? value) / value);
        if (first === undefined || second === undefined || (first === 1 && second === 1)) return [];
        return [[spread, fitResponse(1, [points[0], first], [points[1], second])]];
      });
      return by.length === 0 ? [] : [{ element: solver.element(id), index, nominal: value, by }];
    }),
  );
}

function elementsById(elements: readonly CircuitElement[]): ReadonlyMap<string, CircuitElement> {
  return new Map(elements.map((element) => [element.id, element]));
}
