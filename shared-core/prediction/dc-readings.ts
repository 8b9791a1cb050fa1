import { factorise, solveFactorised } from '../numerics/dense.ts';
import { type ConditionState, meterId, noMeterOhms } from './condition-model.ts';
import { meterOhms } from './meter.ts';

/** A DC reading with the meter in the circuit. */
export interface DcReading {
  readonly id: string;
  /** What the meter shows, in volts (V). */
  readonly volts: number;
  /** The same without the meter, in volts (V). */
  readonly plainVolts: number;
  /** Both probes to the chassis while measuring, in volts (V). */
  readonly red: number;
  readonly black: number;
  readonly converged: boolean;
}

/**
 * A meter's load changes the ripple by millionths; one round of the slow loop leaves some 1e-8 of the reading,
 * relative to the highest EMF as the loop has it.
 */
const enoughChange = 1e-5;

/**
 * Every DC reading of a condition, each solved again with the meter across it.
 *
 * Each starts at the plain solution, and there the solver is left, without any meter.
 */
export function readWithMeter(state: ConditionState): readonly DcReading[] {
  const { model, solver } = state;
  const { wiring } = model.context;
  const plain = Float64Array.from(solver.unknowns);
  const parameters = solver.compiled.elements.map((element) => Float64Array.from(element.parameters));
  const goBack = (): void => {
    solver.unknowns.set(plain);
    solver.compiled.elements.forEach((element, index) => element.parameters.set(parameters[index]!));
  };
  return model.meters.map((reading): DcReading => {
    const [at, against] = [wiring.netAt(reading.at), wiring.netAt(reading.against)];
    const plainVolts = state.volts(at) - state.volts(against);
    const ohms = meterOhms(model.bench.meter, plainVolts);
    solver.setParameter(meterId(reading.id), 'ohms', ohms);
    const { converged } = solver.solve(true, enoughChange);
    const [red, black] = [solver.volts(at), solver.volts(against)];
    solver.setParameter(meterId(reading.id), 'ohms', noMeterOhms);
    goBack();
    return { id: reading.id, volts: red - black, plainVolts, red, black, converged };
  });
}

/**
 * Every DC reading by the source resistance at its place: v·Rm / (Rm + Rs).
 *
 * The circuit is replaced by its tangent for the meter's small current, which differs from a full
 * solution in second order only; for the thousands of worlds of a band.
 */
export function readByTangent(state: ConditionState): Float64Array {
  const { model, solver } = state;
  const { wiring } = model.context;
  const result = new Float64Array(model.meters.length);
  if (result.length === 0) return result;
  const { size } = solver;
  const matrix = solver.linearise().derivatives();
  const order = new Int32Array(size);
  const singular = factorise(matrix, size, order, new Float64Array(size)) >= 0;
  const right = new Float64Array(size);
  const answer = new Float64Array(size + 1);
  model.meters.forEach((reading, index) => {
    const nets = [wiring.netAt(reading.at), wiring.netAt(reading.against)] as const;
    const volts = state.volts(nets[0]) - state.volts(nets[1]);
    const [plus, minus] = nets.map((net) => solver.compiled.netIndex.get(net) ?? -1) as [number, number];
    right.fill(0);
    if (plus >= 0) right[plus] = 1;
    if (minus >= 0) right[minus] = -1;
    if (!singular) solveFactorised(matrix, size, order, right, answer);
    const sourceOhms = singular
      ? 0
      : (plus >= 0 ? (answer[plus] ?? 0) : 0) - (minus >= 0 ? (answer[minus] ?? 0) : 0);
    const ohms = meterOhms(model.bench.meter, volts);
    result[index] = (volts * ohms) / (ohms + Math.max(0, sourceOhms));
  });
  return result;
}
