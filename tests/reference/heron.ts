import type { Circuit, CircuitElement } from '../../shared-core/circuit/circuit.ts';
import { currentSource } from '../../shared-core/devices/current-source.ts';
import { supplyWaveform } from '../../shared-core/devices/rectifier-supply.ts';
import { resistor } from '../../shared-core/devices/resistor.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Bench } from '../../shared-core/prediction/bench.ts';
import {
  type ConditionState,
  openCondition,
  plugVolts,
  solveCondition,
} from '../../shared-core/prediction/condition-model.ts';
import { nominalBench } from '../../shared-core/prediction/nominal-bench.ts';
import { nominalWorld } from '../../shared-core/prediction/world.ts';
import { type NetlistOptions, netlistId, writeNetlist } from '../helpers/netlist.ts';
import type { Simulator } from '../helpers/simulator.ts';
import { asStated, chooseHeron } from '../shared-core/prediction/heron.ts';

/** One build of Heron on the mains that its transformer is for. */
export interface HeronBuild {
  readonly mains: string;
  readonly chosen: ChosenKit;
  readonly bench: Bench;
}

/** Both builds of Heron. */
export function heronBuilds(): readonly HeronBuild[] {
  return ['230 V 50 Hz', '120 V 60 Hz'].map((mains) => {
    const { chosen } = chooseHeron({ mains });
    return { mains, chosen, bench: nominalBench(chosen) };
  });
}

/** A condition of Heron as the prediction solves it: at nominal values, valves as hot as the condition has them. */
export function solveHeron({ chosen, bench }: HeronBuild, conditionId: string): ConditionState {
  const condition = chosen.conditions.find(({ id }) => id === conditionId)!;
  const heat = condition.supply === 'unplugged' ? 'cold' : 'hot';
  const model = openCondition(chosen, condition, bench, asStated, heat);
  return solveCondition(model, nominalWorld, plugVolts(condition, bench));
}

/** The very circuit of a solution: parameters as the solver has them now, meters included. */
export function circuitOf({ solver, elements, model }: ConditionState): Circuit {
  return {
    reference: model.context.wiring.reference,
    elements: elements.map((each) => {
      const { parameters } = solver.element(each.id);
      const names = each.device.parameters.map(({ name }) => name);
      return {
        ...each,
        parameters: Object.fromEntries(names.map((name, index) => [name, parameters[index]!])),
      };
    }),
  };
}

/** The averaged supplies of a solution: their voltage, in volts (V), and what they deliver, in amperes (A). */
export function suppliesOf({ solver, supplies }: ConditionState) {
  return supplies.found.map(({ id, supply }) => {
    const { point, parameters, stamp } = solver.evaluateElement(id);
    return {
      id,
      volts: solver.volts(supply.plus) - solver.volts(supply.minus),
      amps: -stamp.residuals[0]!,
      waveform: supplyWaveform(point, parameters),
    };
  });
}

/** The circuit with every averaged supply made linear where it stands. */
export function linearSupplies(state: ConditionState): Circuit {
  const circuit = circuitOf(state);
  const ids = new Set(suppliesOf(state).map(({ id }) => id));
  return {
    ...circuit,
    elements: circuit.elements.flatMap((each): CircuitElement[] => {
      if (!ids.has(each.id)) return [each];
      const { stamp } = state.solver.evaluateElement(each.id);
      const [amps, siemens] = [stamp.residuals[0]!, stamp.derivatives[0]!];
      const [plus, minus] = each.nets;
      const volts = state.solver.volts(plus!) - state.solver.volts(minus!);
      return [
        { ...each, id: 'slope', device: resistor, parameters: { ohms: 1 / siemens } },
        { ...each, id: 'flow', device: currentSource, parameters: { amps: amps - siemens * volts } },
      ];
    }),
  };
}

/** The simulator's answer for a circuit: volts of every net but the reference, amperes out of the `asVolts` sources. */
export interface SimulatedPoint {
  readonly volts: Readonly<Record<string, number>>;
  readonly amps: Readonly<Record<string, number>>;
}

/** Runs `.op` on a circuit with its supplies as voltage sources. */
export async function simulatePoint(
  simulator: Simulator,
  circuit: Circuit,
  options: NetlistOptions,
): Promise<SimulatedPoint> {
  const { text, nodes } = writeNetlist(circuit, ['.op'], options);
  const { errors, names, columns } = await simulator.run(text);
  if (errors.length > 0) throw new Error(`the simulator complains: ${errors.join('; ')}`);
  const valueOf = (name: string): number => {
    const value = columns[names.findIndex((each) => each.toLowerCase() === name)]?.[0];
    if (typeof value !== 'number') throw new Error(`the simulator gives no ${name}`);
    return value;
  };
  const nets = [...nodes].filter(([, node]) => node !== '0');
  const sources = Object.keys(options.asVolts ?? {});
  return {
    volts: Object.fromEntries(nets.map(([net, node]) => [net, valueOf(`v(${node})`)])),
    amps: Object.fromEntries(sources.map((id) => [id, -valueOf(`i(v${netlistId(id)})`)])),
  };
}

/** Differences beyond 1e-6 relative or 10 µV, whichever is larger: the simulator's own tolerance. */
export function findUnlike(
  ours: (net: string) => number,
  theirs: Readonly<Record<string, number>>,
): { readonly unlike: readonly string[]; readonly worstShare: number } {
  const unlike: string[] = [];
  let worstShare = 0;
  for (const [net, expected] of Object.entries(theirs)) {
    const share = Math.abs(ours(net) - expected) / Math.max(1e-6 * Math.abs(expected), 10e-6);
    worstShare = Math.max(worstShare, share);
    if (!(share <= 1)) unlike.push(`${net}: ${ours(net)} and ${expected}`);
  }
  return { unlike, worstShare };
}
