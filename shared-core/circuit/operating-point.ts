import type { Circuit } from './circuit.ts';
import type { CompiledCircuit } from './compile.ts';
import type { DeviceFigure } from './device.ts';
import { type SolveFailure, Solver, type SolverOptions } from './solver.ts';

/** What a circuit settles at, as plain data. */
export interface OperatingPoint {
  readonly converged: boolean;
  /** Newton iterations, all rounds and fallbacks together. */
  readonly iterations: number;
  /** Rounds of the slow loop (ripple, lamp). */
  readonly rounds: number;
  readonly method: 'direct' | 'gmin-stepping';
  /** Why there is no operating point; null when there is one. */
  readonly failure: SolveFailure | null;
  /** Voltage of every net against the reference, in volts (V), the reference included; empty without convergence. */
  readonly volts: Readonly<Record<string, number>>;
  /** Current of every branch, in amperes (A), by `<element>.<branch>`; empty without convergence. */
  readonly branchAmps: Readonly<Record<string, number>>;
  /** Worst violation of the current law, in amperes (A), and where. */
  readonly residualAmps: number;
  readonly worstNet: string;
  /**
   * Nets that nothing but the solver's own tiny conductance ties to the reference: their voltage means
   * nothing on a real chassis.
   */
  readonly floatingNets: readonly string[];
}

/** Solves a circuit once, from a cold start. */
export function solveOperatingPoint(
  circuit: Circuit | CompiledCircuit,
  options: Partial<SolverOptions> = {},
): OperatingPoint {
  const solver = new Solver(circuit, options);
  solver.solve();
  return readOperatingPoint(solver);
}

/** The last solution of a solver as plain data. */
export function readOperatingPoint(solver: Solver): OperatingPoint {
  const { outcome, compiled, unknowns } = solver;
  const { converged, iterations, rounds, method, failure } = outcome;
  const common = { converged, iterations, rounds, method, failure };
  if (!converged) {
    return { ...common, volts: {}, branchAmps: {}, residualAmps: 0, worstNet: '', floatingNets: [] };
  }
  const volts: Record<string, number> = { [compiled.circuit.reference]: 0 };
  compiled.nets.forEach((net, index) => (volts[net] = unknowns[index]!));
  const branchAmps: Record<string, number> = {};
  compiled.branches.forEach(
    (branch, index) => (branchAmps[branch] = unknowns[compiled.nets.length + index]!),
  );
  const { residuals } = solver.linearise();
  let worst = 0;
  for (let net = 0; net < compiled.nets.length; net++) {
    if (Math.abs(residuals[net]!) > Math.abs(residuals[worst]!)) worst = net;
  }
  return {
    ...common,
    ...{ volts, branchAmps },
    residualAmps: compiled.nets.length > 0 ? Math.abs(residuals[worst]!) : 0,
    worstNet: compiled.nets[worst] ?? '',
    floatingNets: findFloatingNets(solver),
  };
}

/** Currents into the pins of an element at the solution, in amperes (A), in the order of its pins. */
export function pinAmps(solver: Solver, elementId: string): number[] {
  const { stamp, device } = solver.evaluateElement(elementId);
  return [...stamp.residuals.subarray(0, device.pins.length)];
}

/** Power that an element takes up at the solution, in watts (W); negative for a source. */
export function elementWatts(solver: Solver, elementId: string): number {
  const { stamp, device, point } = solver.evaluateElement(elementId);
  let watts = 0;
  for (let pin = 0; pin < device.pins.length; pin++) watts += stamp.residuals[pin]! * point[pin]!;
  return watts;
}

/** What an element reports at the solution: watts, limits. */
export function elementFigures(solver: Solver, elementId: string): readonly DeviceFigure[] {
  const { device, point, parameters } = solver.evaluateElement(elementId);
  return device.report?.(point, parameters) ?? [];
}

/** A coupling weaker than this, in siemens (S), ties nothing down: ten times the usual gmin. */
const tyingSiemens = 1e-11;

/** Nets that no conductance above {@link tyingSiemens} and no branch joins to the reference. */
function findFloatingNets(solver: Solver): string[] {
  const { elements, size, nets } = solver.compiled;
  const group = Int32Array.from({ length: size + 1 }, (_, index) => index);
  const root = (index: number): number => {
    let at = index;
    while (group[at] !== at) at = group[at]!;
    return at;
  };
  for (const { id } of elements) {
    const { unknowns, stamp } = solver.evaluateElement(id);
    const count = unknowns.length;
    for (let row = 0; row < count; row++) {
      for (let column = 0; column < count; column++) {
        const size = Math.abs(stamp.derivatives[row * count + column]!);
        if (row !== column && size > tyingSiemens) group[root(unknowns[row]!)] = root(unknowns[column]!);
      }
    }
  }
  const reference = root(size);
  return nets.filter((_, index) => root(index) !== reference);
}
