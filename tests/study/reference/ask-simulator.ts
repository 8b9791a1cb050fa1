import type { Circuit } from '../../../shared-core/circuit/circuit.ts';
import type { Solver } from '../../../shared-core/circuit/solver.ts';
import { netlistId, type NetlistOptions, referenceOptions, writeNetlist } from '../../helpers/netlist.ts';
import type { Simulator, SimulatorRun } from '../../helpers/simulator.ts';

/**
 * Temperature at which the simulator's kT/q is ours at 27 °C, in degrees Celsius (°C): it has the Boltzmann constant
 * and the elementary charge of CODATA 2014. A saturated pair turns their 0.3 in a million into tens of microvolts.
 */
const sameKelvin = 300.15 * (1.380649e-23 / 1.38064852e-23) * (1.6021766208e-19 / 1.602176634e-19);
const temperature = `temp=${sameKelvin - 273.15} tnom=${sameKelvin - 273.15}`;

/** Tolerances of the second question, where the first answer is less sure than what is asked: `.op` from our own. */
const tightOptions = '.options reltol=1e-9 vntol=1e-11 abstol=1e-18 itl1=500 gmin=1e-16 temp=27';

/** Where the simulator starts from: voltages of nets, in volts (V); nets it does not know are left out. */
export type Start = Readonly<Record<string, number>>;

/** Voltages of nets, and currents out of the first pin of voltage sources, in amperes (A). */
export interface Answer {
  readonly volts: ReadonlyMap<string, number>;
  readonly amps: ReadonlyMap<string, number>;
}

/** Voltages of all nets of a solution. */
export function startOf(solver: Solver): Start {
  return Object.fromEntries(solver.compiled.nets.map((net, index) => [net, solver.unknowns[index]!]));
}

/**
 * The simulator's operating point, or null where it finds none.
 *
 * @param start The sound circuit's voltages: from nothing the simulator falls back on a thousand steps. The
 *   answer does not depend on it but where a circuit has two.
 * @param isTight With the tolerances of the second question.
 * @param typedTransistors Transistors by their law typed in, not by the simulator's own model.
 */
export async function askPoint(
  simulator: Simulator,
  of: Circuit,
  start: Start,
  isTight: boolean,
  typedTransistors = isTight,
): Promise<Answer | null> {
  const { run, nodes } = await ask(simulator, of, start, ['.op'], { typedTransistors }, isTight);
  if (run.errors.length > 0) return null;
  const values = new Map(run.names.map((name, index) => [name.toLowerCase(), run.columns[index]?.[0]]));
  const read = (name: string): number => {
    const value = values.get(name);
    if (typeof value !== 'number') throw new Error(`the simulator gives no ${name}`);
    return value;
  };
  const nets = [...nodes].filter(([, node]) => node !== '0');
  const sources = of.elements.filter(({ device }) => device.name === 'voltage-source');
  return {
    volts: new Map(nets.map(([net, node]) => [net, read(`v(${node})`)])),
    amps: new Map(sources.map(({ id }) => [id, -read(`i(v${netlistId(id)})`)])),
  };
}

/** Complex voltage of every net for 1 V of small signal, or null where the simulator finds no operating point. */
export async function askSignal(
  simulator: Simulator,
  of: Circuit,
  start: Start,
  movedSource: string,
  hertz: number,
): Promise<ReadonlyMap<string, readonly [number, number]> | null> {
  const commands = [`.ac lin 1 ${hertz} ${hertz}`];
  const { run, nodes } = await ask(simulator, of, start, commands, { movedSource }, true);
  if (run.errors.length > 0) return null;
  const values = new Map(run.names.map((name, index) => [name.toLowerCase(), run.columns[index]?.[0]]));
  return new Map(
    [...nodes].flatMap(([net, node]): [string, readonly [number, number]][] => {
      const value = values.get(`v(${node})`);
      return typeof value === 'object' ? [[net, [value.real, value.img]]] : [];
    }),
  );
}

async function ask(
  simulator: Simulator,
  of: Circuit,
  start: Start,
  commands: readonly string[],
  options: NetlistOptions,
  isTight: boolean,
): Promise<{ readonly run: SimulatorRun; readonly nodes: ReadonlyMap<string, string> }> {
  const { nodes } = writeNetlist(of, []);
  const sets = [...nodes].flatMap(([net, node]) =>
    node === '0' || start[net] === undefined ? [] : [`.nodeset v(${node})=${start[net]}`],
  );
  const { text } = writeNetlist(of, [...sets, ...commands], options);
  const asked = isTight ? text.replace(referenceOptions, tightOptions) : text;
  return { run: await simulator.tryRun(asked.replace('temp=27', temperature)), nodes };
}
