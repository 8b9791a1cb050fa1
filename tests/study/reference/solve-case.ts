import type { Circuit, CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { compileCircuit } from '../../../shared-core/circuit/compile.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { resistor } from '../../../shared-core/devices/resistor.ts';
import { voltageSource } from '../../../shared-core/devices/voltage-source.ts';

/** One circuit solved: how, and how well. */
export interface SolvedCase {
  readonly solver: Solver;
  readonly converged: boolean;
  /** Newton iterations from nothing at fixed parameters: before the slow loop moves any. */
  readonly iterations: number;
  /** Without stepping, in every round. */
  readonly isDirect: boolean;
  /** Worst violation of the current law at a net, in amperes (A). */
  readonly residualAmps: number;
}

/**
 * Solves from nothing: once at fixed parameters for the count, once with the slow loop where there is one.
 *
 * @param withLoop False leaves the slow loop out: an averaged supply then stays on its curve without ripple.
 */
export function solveCase(of: Circuit, withLoop = true): SolvedCase {
  const compiled = compileCircuit(of);
  const first = new Solver(compiled, { maxRounds: 0 });
  const { converged, iterations, method } = first.solve();
  const hasLoop = withLoop && of.elements.some(({ device }) => device.refine);
  const solver = hasLoop ? new Solver(compiled) : first;
  if (hasLoop) solver.solve();
  const isConverged = converged && solver.outcome.converged;
  return {
    ...{ solver, converged: isConverged, iterations },
    isDirect: method === 'direct' && solver.outcome.method === 'direct',
    residualAmps: isConverged ? worstResidual(solver) : Infinity,
  };
}

function worstResidual(solver: Solver): number {
  const { residuals } = solver.linearise();
  return solver.compiled.nets.reduce((worst, _, net) => Math.max(worst, Math.abs(residuals[net]!)), 0);
}

/** The circuit with its parameters as the slow loop left them. */
export function settled({ compiled }: Solver): Circuit {
  const { circuit, elements } = compiled;
  return {
    ...circuit,
    elements: circuit.elements.map((each, index) => ({
      ...each,
      parameters: Object.fromEntries(
        each.device.parameters.map(({ name }, place) => [name, elements[index]!.parameters[place]!]),
      ),
    })),
  };
}

/** A pair of pins of an averaged supply between which it stands as one characteristic. */
interface Half {
  readonly element: CircuitElement;
  readonly id: string;
  readonly nets: readonly [string, string];
  /** Voltage, in volts (V), current out of the first pin, in amperes (A), and its slope, in siemens (S). */
  readonly volts: number;
  readonly amps: number;
  readonly siemens: number;
}

/** Averaged supplies, half by half: a doubler has two. */
function halvesOf(solver: Solver): readonly Half[] {
  return solver.compiled.circuit.elements.flatMap((element): Half[] => {
    const { id, device, nets } = element;
    if (!device.name.endsWith('-supply')) return [];
    const { stamp, point } = solver.evaluateElement(id);
    let amps = 0;
    return nets.slice(1).map((minus, half) => {
      amps -= stamp.residuals[half]!;
      const siemens = -stamp.derivatives[half * nets.length + half + 1]!;
      const pair = [nets[half]!, minus] as const;
      return {
        ...{ element, id: `${id}~${half}`, nets: pair, amps, siemens },
        volts: point[half]! - point[half + 1]!,
      };
    });
  });
}

/** A supply's current in our solution, and the source that stands for it in the simulator's circuit. */
export interface StandIn {
  readonly id: string;
  readonly amps: number;
}

/** The solved circuit with every averaged supply as a source of our own voltage: its current must come out. */
export function withVoltSources(solver: Solver): {
  readonly of: Circuit;
  readonly sources: readonly StandIn[];
} {
  const halves = halvesOf(solver);
  return {
    of: replaceSupplies(solver, (element) =>
      halves
        .filter((half) => half.element.id === element.id && half.nets[0] !== half.nets[1])
        .map(({ id, nets, volts }) => ({ id, device: voltageSource, nets, parameters: { volts } })),
    ),
    sources: halves.filter(({ nets }) => nets[0] !== nets[1]).map(({ id, amps }) => ({ id, amps })),
  };
}

/** The solved circuit with every averaged supply made linear where it stands. */
export function withSlopes(solver: Solver): Circuit {
  const halves = halvesOf(solver);
  return replaceSupplies(solver, (element) =>
    halves
      .filter((half) => half.element.id === element.id && half.nets[0] !== half.nets[1])
      .flatMap(({ id, nets, volts, amps, siemens }): CircuitElement[] => [
        { id: `${id}slope`, device: resistor, nets, parameters: { ohms: 1 / Math.max(siemens, 1e-13) } },
        { id: `${id}flow`, device: currentSource, nets, parameters: { amps: -amps - siemens * volts } },
      ]),
  );
}

function replaceSupplies(
  solver: Solver,
  standIns: (element: CircuitElement) => readonly CircuitElement[],
): Circuit {
  const of = settled(solver);
  return {
    ...of,
    elements: of.elements.flatMap((each) => (each.device.name.endsWith('-supply') ? standIns(each) : [each])),
  };
}
