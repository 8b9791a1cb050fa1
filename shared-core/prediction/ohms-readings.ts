import type { CircuitElement } from '../circuit/circuit.ts';
import { Solver } from '../circuit/solver.ts';
import { currentSource } from '../devices/current-source.ts';
import { factorise, solveFactorised } from '../numerics/dense.ts';
import type { Reading } from '../kit/kit.ts';
import type { ConditionModel } from './condition-model.ts';
import { type OhmsTest, plainOhmsTest } from './bench.ts';
import { ohmsTests, testVolts, topRangeOhms } from './meter.ts';
import { partElements } from './part-elements.ts';
import { type ElementContext, partValue } from './element-context.ts';
import { readWorld, type World } from './world.ts';

/** What an ohmmeter shows on a cold amplifier. */
export interface OhmsReading {
  readonly id: string;
  /** In ohms (Ω); null is OL. */
  readonly ohms: number | null;
  /** Until the figure is within 1 % of its end, in seconds (s); null for OL. */
  readonly settleSeconds: number | null;
  /** Volts that the meter then puts across the place, in volts (V): above half a volt a junction conducts. */
  readonly testVolts: number | null;
  /**
   * With the leads exchanged, in ohms (Ω), null for OL: only where it differs by more than a twentieth, so
   * only with a junction in the way, and only where it was asked for.
   */
  readonly reversed?: { readonly ohms: number | null };
}

/** A difference between the two ways round that is worth saying. */
const worthSaying = 0.05;

/** Time constants until the rest of a single exponential is below 1 %: ln 100. */
const settleConstants = Math.log(100);

/** Readings of a condition that the ohmmeter's computation answers. */
export function ohmsReadings(model: ConditionModel): readonly Reading[] {
  return model.chosen.readings.filter(
    (reading) => reading.in === model.condition.id && reading.measure === 'ohms' && reading.expect === null,
  );
}

/** The cold circuit with one current source for each reading. */
interface ColdCircuit {
  readonly solver: Solver;
  /** Net's voltage at the last solution; 0 for a net that is not in the circuit. */
  readonly volts: (net: string) => number;
  readonly stores: readonly { readonly nets: readonly [string, string]; readonly farads: number }[];
  readonly asked: ReadonlySet<string>;
  /** What the meter puts across it. */
  readonly test: OhmsTest;
}

/**
 * What the ohmmeter shows: a small current from the lead with the plus through the circuit, capacitors settled,
 * valves cold. Voltage and polarity are those of the bench's meter: with 0.4 V at full scale junctions of diodes
 * stay below their knee.
 *
 * A circuit is factorised once, with its junctions as they are at nothing. Where one of them notices the meter,
 * each range is tried from the lowest up, as a meter does that ranges by itself, and on request with the leads
 * exchanged too.
 */
export function readOhms(
  model: ConditionModel,
  world: World,
  ways: 'as it is' | 'both ways' = 'as it is',
): { readonly readings: readonly OhmsReading[]; readonly asked: ReadonlySet<string> } {
  const readings = ohmsReadings(model);
  const test = model.bench.meter.ohmsTest ?? plainOhmsTest;
  const cold = { ...buildCold(model, world, readings), test };
  const { wiring } = model.context;
  const isLinear = cold.solver.compiled.elements.every(({ device }) => device.linear);
  const unit = unitResponses(cold);
  const isBelowKnee = isLinear ? null : junctionsBelowKnee(cold);
  const closed = isLinear ? null : unitResponses(cold, 'closed');
  const answers = readings.map(({ id, at, against }) => {
    const [red, black] = [wiring.netAt(at), wiring.netAt(against)];
    if (red === black) return { id, ohms: 0, settleSeconds: 0, testVolts: 0 };
    if (!isBelowKnee) return readLinear(cold, unit, id, red, black);
    const quick = readBelowKnee(cold, unit, isBelowKnee, id, red, black);
    if (quick) return quick;
    const least = closed?.(black, red);
    if (least && least(red) - least(black) > topRangeOhms) return { id, ...overload };
    const sign = test.plusOn === 'red' ? 1 : -1;
    const forward = readThroughJunctions(cold, id, red, black, sign);
    if (ways === 'as it is') return forward;
    const reversed = readThroughJunctions(cold, id, red, black, sign === 1 ? -1 : 1);
    return isLike(forward.ohms, reversed.ohms) ? forward : { ...forward, reversed: { ohms: reversed.ohms } };
  });
  return { readings: answers, asked: cold.asked };
}

function buildCold(
  model: ConditionModel,
  world: World,
  readings: readonly Reading[],
): Omit<ColdCircuit, 'test'> {
  const reader = readWorld(world);
  const context: ElementContext = { ...model.context, heat: 'cold', world: reader };
  const { wiring, chosen } = context;
  const elements: CircuitElement[] = chosen.parts.flatMap((part) => partElements(context, part));
  for (const { id, at, against } of readings) {
    const nets = [wiring.netAt(against), wiring.netAt(at)];
    elements.push({ id: `#ohmmeter ${id}`, device: currentSource, nets, parameters: {} });
  }
  const solver = new Solver({
    elements: elements.filter(({ nets }) => new Set(nets).size > 1),
    reference: wiring.reference,
  });
  const stores = chosen.parts.flatMap((part) =>
    part.kind === 'capacitor'
      ? [
          {
            nets: [wiring.netAt(part.between[0]), wiring.netAt(part.between[1])] as const,
            farads: partValue(context, part.id, part.farads),
          },
        ]
      : [],
  );
  const volts = (net: string): number => (solver.compiled.netIndex.has(net) ? solver.volts(net) : 0);
  return { solver, volts, stores, asked: reader.asked };
}

/** Voltage of a net for one ampere from one net to another; null where the matrix is singular. */
type UnitResponse = (from: string, to: string) => ((net: string) => number) | null;

/** Stands for a junction that conducts, in siemens (S). */
const closedSiemens = 10;

/** @param junctions As they are at nothing, or each as good as a wire: no meter finds less than that. */
function unitResponses({ solver }: ColdCircuit, junctions: 'at rest' | 'closed' = 'at rest'): UnitResponse {
  const { size, compiled } = solver;
  solver.solve();
  const matrix = solver.linearise().derivatives();
  if (junctions === 'closed') closeJunctions(solver, matrix);
  const order = new Int32Array(size);
  const isSingular = factorise(matrix, size, order, new Float64Array(size)) >= 0;
  return (from, to) => {
    if (isSingular) return null;
    const right = new Float64Array(size);
    const answer = new Float64Array(size);
    const [out, into] = [compiled.netIndex.get(from), compiled.netIndex.get(to)];
    if (into !== undefined) right[into] = 1;
    if (out !== undefined) right[out] = (right[out] ?? 0) - 1;
    solveFactorised(matrix, size, order, right, answer);
    return (net) => {
      const index = compiled.netIndex.get(net);
      return index === undefined ? 0 : (answer[index] ?? 0);
    };
  };
}

/** Joins all ends of every device that is not linear. */
function closeJunctions({ size, compiled }: Solver, matrix: Float64Array): void {
  for (const { device, nets } of compiled.elements) {
    if (device.linear) continue;
    const first = compiled.netIndex.get(nets[0] ?? '');
    for (const net of nets.slice(1)) {
      const other = compiled.netIndex.get(net);
      if (first !== undefined) matrix[first * size + first]! += closedSiemens;
      if (other !== undefined) matrix[other * size + other]! += closedSiemens;
      if (first === undefined || other === undefined) continue;
      matrix[first * size + other]! -= closedSiemens;
      matrix[other * size + first]! -= closedSiemens;
    }
  }
}

function readLinear(
  cold: ColdCircuit,
  unit: UnitResponse,
  id: string,
  red: string,
  black: string,
): OhmsReading {
  const at = unit(black, red);
  const ohms = at ? at(red) - at(black) : Infinity;
  if (!at || !(ohms <= topRangeOhms)) return { id, ...overload };
  return describe(cold, id, Math.max(0, ohms), at);
}

/** The meter shows OL. */
const overload = { ohms: null, settleSeconds: null, testVolts: null } as const;

/** Current that junctions may draw beyond their tangent at nothing, as a share of the test current. */
const kneeShare = 1e-6;

/** Whether every junction still follows its tangent at nothing with these net voltages, in volts (V). */
type BelowKnee = (volts: (net: string) => number, testAmps: number) => boolean;

function junctionsBelowKnee({ solver }: ColdCircuit): BelowKnee {
  const junctions = solver.compiled.elements
    .filter(({ device }) => !device.linear)
    .map(({ id, device, nets }) => {
      const { stamp, parameters } = solver.evaluateElement(id);
      const size = nets.length + (device.branches?.length ?? 0);
      const out = { residuals: new Float64Array(size), derivatives: new Float64Array(size * size) };
      const [rest, slopes] = [Float64Array.from(stamp.residuals), Float64Array.from(stamp.derivatives)];
      return { device, nets, parameters: Float64Array.from(parameters), size, out, rest, slopes };
    });
  const excess = (junction: (typeof junctions)[number], point: Float64Array): number => {
    const { device, parameters, size, out, rest, slopes } = junction;
    out.residuals.fill(0);
    out.derivatives.fill(0);
    device.evaluate(point, parameters, out);
    let largest = 0;
    for (let row = 0; row < size; row += 1) {
      let tangent = rest[row]!;
      for (let column = 0; column < size; column += 1)
        tangent += slopes[row * size + column]! * point[column]!;
      largest = Math.max(largest, Math.abs(out.residuals[row]! - tangent));
    }
    return largest;
  };
  return (volts, testAmps) =>
    junctions.every((junction) => {
      // A branch has unknowns of its own, which no net voltage tells.
      if (junction.size > junction.nets.length) return false;
      return excess(junction, Float64Array.from(junction.nets, volts)) <= kneeShare * testAmps;
    });
}

/** The linear answer where no junction notices the meter, whichever way round; null where one does. */
function readBelowKnee(
  cold: ColdCircuit,
  unit: UnitResponse,
  isBelowKnee: BelowKnee,
  id: string,
  red: string,
  black: string,
): OhmsReading | null {
  const at = unit(black, red);
  const ohms = at ? at(red) - at(black) : Infinity;
  const range = ohmsTests(cold.test).find(({ fullScale }) => ohms <= fullScale);
  if (!at || !range) return null;
  for (const amps of [range.amps, -range.amps]) {
    if (!isBelowKnee((net) => at(net) * amps, range.amps)) return null;
  }
  return describe(cold, id, Math.max(0, ohms), at);
}

/** @param sign −1 with the plus on the black lead. */
function readThroughJunctions(
  cold: ColdCircuit,
  id: string,
  red: string,
  black: string,
  sign: 1 | -1,
): OhmsReading {
  const { solver, volts } = cold;
  for (const { fullScale, amps: size } of ohmsTests(cold.test)) {
    const amps = sign * size;
    solver.setParameter(`#ohmmeter ${id}`, 'amps', amps);
    const { converged } = solver.solve(false);
    const ohms = (volts(red) - volts(black)) / amps;
    const answer =
      converged && ohms <= fullScale
        ? describe(cold, id, Math.max(0, ohms), (net) => volts(net) / amps)
        : null;
    solver.setParameter(`#ohmmeter ${id}`, 'amps', 0);
    if (answer) return answer;
  }
  return { id, ...overload };
}

function isLike(one: number | null, other: number | null): boolean {
  if (one === null || other === null) return one === other;
  return Math.abs(one - other) <= worthSaying * Math.max(one, other);
}

/** First moment of the approach (W. C. Elmore, J. Appl. Phys. 19, 1948): Σ C·R²/R at the port. */
function describe(cold: ColdCircuit, id: string, ohms: number, at: (net: string) => number): OhmsReading {
  const moment = cold.stores.reduce(
    (sum, { nets, farads }) => sum + farads * (at(nets[0]) - at(nets[1])) ** 2,
    0,
  );
  const settleSeconds = ohms > 0 ? (settleConstants * moment) / ohms : 0;
  return { id, ohms, settleSeconds, testVolts: testVolts(ohms, cold.test) };
}
