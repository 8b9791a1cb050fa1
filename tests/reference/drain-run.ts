import type { Circuit } from '../../shared-core/circuit/circuit.ts';
import type { Solver } from '../../shared-core/circuit/solver.ts';
import type { DrainCase } from '../../shared-core/prediction/predict-drain.ts';
import { writeNetlist } from '../helpers/netlist.ts';
import type { Simulator } from '../helpers/simulator.ts';
import { type Columns, runTransient } from './supplies/transient.ts';

/** A transient: how far and in which steps, in seconds (s), and a primary's current at the start, in amperes (A). */
export interface DrainRun {
  readonly until: number;
  readonly step: number;
  readonly startAmps: Readonly<Record<string, number>>;
}

/** Direct current in a primary with two ends, in amperes (A). */
export function primaryAmps(solver: Solver, id: string): number {
  const { device, point } = solver.evaluateElement(id);
  return point[device.pins.length + device.branches!.indexOf('primary')]!;
}

/** Last time above the safe voltage of each store in the simulator, in seconds (s). */
export async function secondsBelow(
  simulator: Simulator,
  { circuit, start }: DrainCase,
  stores: readonly string[],
  safeVolts: number,
  { until, step, startAmps }: DrainRun,
): Promise<Record<string, number>> {
  const startVolts = Object.fromEntries(
    circuit.elements.flatMap(({ id, device }) => (device.name === 'capacitor' ? [[id, start[id] ?? 0]] : [])),
  );
  const commands = [`.tran ${step} ${until} 0 ${step} uic`];
  const { text, nodes } = writeNetlist(circuit, commands, { startVolts, startAmps });
  const run = await runTransient(simulator, text, ['time']);
  return secondsInRun(run, until, safeVolts, endsOf(circuit, stores, nodes));
}

/**
 * A drain without its diodes and mains transformers.
 *
 * For bridges on a winding of their own: they stand in reverse, 5 nA each beside the milliamperes of the bleeders,
 * and the simulator does not get past the winding that floats between them.
 */
export function withoutBridges(drain: DrainCase): DrainCase {
  const { elements } = drain.circuit;
  const kept = elements.filter(({ id, device }) => device.name !== 'diode' && !/^T\d+#/.test(id));
  return { ...drain, circuit: { ...drain.circuit, elements: kept } };
}

/** Nodes of both ends of each store. */
function endsOf(
  circuit: Circuit,
  stores: readonly string[],
  nodes: ReadonlyMap<string, string>,
): Readonly<Record<string, readonly [string, string]>> {
  return Object.fromEntries(
    stores.map((store) => {
      const [plus, minus] = circuit.elements.find(({ id }) => id === store)!.nets;
      return [store, [nodes.get(plus!)!, nodes.get(minus!)!] as const];
    }),
  );
}

/** Last time above the safe voltage between two nodes of a run that went all the way, in seconds (s). */
export function secondsInRun(
  run: Columns,
  until: number,
  safeVolts: number,
  ends: Readonly<Record<string, readonly [string, string]>>,
): Record<string, number> {
  const times = run.get('time')!;
  if (Math.abs(times.at(-1)! - until) > 1e-6) throw new Error(`the simulator stopped at ${times.at(-1)} s`);
  const voltsOf = (node: string): readonly number[] =>
    node === '0' ? times.map(() => 0) : run.get(`v(${node})`)!;
  return Object.fromEntries(
    Object.entries(ends).map(([store, [plus, minus]]) => {
      const [up, down] = [voltsOf(plus), voltsOf(minus)];
      return [
        store,
        lastAbove(
          times,
          up.map((each, index) => each - down[index]!),
          safeVolts,
        ),
      ];
    }),
  );
}

/** Last time above a limit: an exponential between the two samples round it. */
function lastAbove(times: readonly number[], volts: readonly number[], limit: number): number {
  const last = volts.findLastIndex((each) => Math.abs(each) > limit);
  if (last < 0) return 0;
  const [from, to] = [times[last]!, times[last + 1]!];
  return from + ((to - from) * Math.log(volts[last]! / limit)) / Math.log(volts[last]! / volts[last + 1]!);
}
