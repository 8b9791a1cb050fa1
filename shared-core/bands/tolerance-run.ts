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
import { modelledSections } from '../prediction/valve-elements.ts';
import { nominalWorld } from '../prediction/world.ts';
import type { OffsetWriter } from '../valves/offset-section.ts';
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

/** One parameter of the circuit and what moves it: its value is base × Π (1 + response). */
interface MovedParameter {
  readonly element: CompiledElement;
  readonly index: number;
  /** Where its value stands before these responses: nominal, or as a model that is off has it. */
  readonly base: Float64Array;
  readonly place: number;
  /** Number of the spread, and the parameter's relative response to it. */
  readonly by: readonly (readonly [number, Response])[];
}

/** A valve section whose model is off differently in every amplifier. */
interface OffSection {
  readonly write: OffsetWriter;
  readonly out: Float64Array;
  /** Numbers of the spreads of current, slope and amplification; -1 where there is none. */
  readonly spreads: readonly [number, number, number];
}

interface Moved {
  readonly sections: readonly OffSection[];
  readonly parameters: readonly MovedParameter[];
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
  { sections, parameters }: Moved,
  probes: readonly Probe[],
  samples: number,
  seed: number,
): Pick<ToleranceRun, 'rows' | 'failed'> {
  const random = spreads.map(({ quantity }) => seededRandom((seed ^ seedOfText(quantity)) >>> 0));
  const deviations = new Float64Array(spreads.length);
  const offset = { current: 1, slope: 1, amplification: 1 };
  const { unknowns } = solver;
  const rows: Float64Array[] = [];
  for (let sample = 0; sample < samples; sample += 1) {
    spreads.forEach((spread, index) => {
      deviations[index] = drawDeviation(spread, random[index] ?? (() => 0.5));
    });
    for (const { write, out, spreads: own } of sections) {
      offset.current = 1 + (deviations[own[0]] ?? 0);
      offset.slope = 1 + (deviations[own[1]] ?? 0);
      offset.amplification = 1 + (deviations[own[2]] ?? 0);
      write(offset, out);
    }
    for (const { element, index, base, place, by } of parameters) {
      let value = base[place] ?? 0;
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

function findMoved(state: ConditionState, spreads: readonly Spread[], mainsVolts: number): Moved {
  const { model, solver } = state;
  const nominal = elementsById(elementsIn(model, nominalWorld, mainsVolts));
  const off = new Map(
    modelledSections(model.context)
      .filter(({ id }) => nominal.has(id))
      .map(({ id, type, names, write }) => {
        const numberOf = (what: string): number =>
          spreads.findIndex(({ quantity }) => quantity === `${type}.${what}`);
        const own = [numberOf('current'), numberOf('slope'), numberOf('amplification')] as const;
        return [id, { names, write, out: new Float64Array(names.length), spreads: own }];
      }),
  );
  const byModels = new Set([...off.values()].flatMap((section) => section.spreads));
  const probes = spreads.map((spread, number) => {
    const points = probeDeviations(spread);
    const worlds = byModels.has(number)
      ? []
      : points.map((deviation) =>
          elementsById(elementsMovedBy(state, { [spread.quantity]: deviation }, mainsVolts)),
        );
    return { points, worlds };
  });
  const parameters = [...nominal.values()].flatMap(({ id, device, parameters: own }) =>
    device.parameters.flatMap(({ name }, index): readonly MovedParameter[] => {
      const value = own[name];
      const section = off.get(id);
      const place = section?.names.indexOf(name) ?? -1;
      if (value === undefined || (value === 0 && place < 0)) return [];
      const by = probes.flatMap(({ points, worlds }, spread): readonly (readonly [number, Response])[] => {
        const [first, second] = worlds.map((world) => (world.get(id)?.parameters[name] ?? value) / value);
        if (first === undefined || second === undefined || (first === 1 && second === 1)) return [];
        return [[spread, fitResponse(1, [points[0], first], [points[1], second])]];
      });
      const element = solver.element(id);
      if (section && place >= 0) return [{ element, index, base: section.out, place, by }];
      return by.length === 0 ? [] : [{ element, index, base: Float64Array.of(value), place: 0, by }];
    }),
  );
  return { sections: [...off.values()], parameters };
}

function elementsById(elements: readonly CircuitElement[]): ReadonlyMap<string, CircuitElement> {
  return new Map(elements.map((element) => [element.id, element]));
}
