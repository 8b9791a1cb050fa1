import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect } from 'vitest';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { readKit } from '../../shared-core/kit/read-kit.ts';
import type { Bench } from '../../shared-core/prediction/bench.ts';
import type { ConditionState } from '../../shared-core/prediction/condition-model.ts';
import { nominalBench } from '../../shared-core/prediction/nominal-bench.ts';
import { referenceOptions } from '../helpers/netlist.ts';
import type { Simulator } from '../helpers/simulator.ts';
import { root } from '../run/child.mjs';
import { placeOfNode } from './hand-netlist.ts';
import { findUnlike } from './heron.ts';

/** One build of a kit on the mains that its transformers are for. */
export interface KitBuild {
  readonly title: string;
  readonly mains: string;
  /** Choice of the option `output`, where the kit has one. */
  readonly output: string;
  readonly chosen: ChosenKit;
  readonly bench: Bench;
}

/** Every build of a kit of the folder `kits`, mains by mains. */
export function kitBuilds(kit: string): readonly KitBuild[] {
  const path = join(root, 'kits', kit, 'kit.yaml');
  const read = readKit(readFileSync(path, 'utf8'), path);
  if (!read.ok) throw new Error(read.problems[0].message);
  const outputs = read.value.options.find(({ id }) => id === 'output')?.choices ?? [''];
  return ['230 V 50 Hz', '120 V 60 Hz'].flatMap((mains) =>
    outputs.map((output): KitBuild => {
      const choice = chooseKit(read.value, output === '' ? { mains } : { mains, output });
      if (!choice.ok) throw new Error(choice.problems[0].message);
      const chosen = choice.value;
      const title = output === '' ? mains : `${mains}, ${output}`;
      return { title, mains, output, chosen, bench: nominalBench(chosen) };
    }),
  );
}

/** The node of a netlist written by hand that stands for each net of a condition. */
export function nodesOf(state: ConditionState, netlist: string): ReadonlyMap<string, string> {
  const { wiring } = state.model.context;
  const nodes = new Map([[wiring.reference, '0']]);
  const lines = netlist.split('\n').filter((line) => !line.startsWith('*'));
  for (const word of lines.join(' ').split(/\s+/)) {
    const place = placeOfNode(word);
    if (place !== null && !nodes.has(wiring.netAt(place))) nodes.set(wiring.netAt(place), word);
  }
  return nodes;
}

/**
 * The supplies of a solution as lines of a netlist.
 *
 * @param as `volts`: sources of our own voltage, whose current is then compared. `slope`: our own current
 * with our own slope beside it, for small signals.
 */
export function supplyLines(
  state: ConditionState,
  nodes: ReadonlyMap<string, string>,
  as: 'volts' | 'slope',
): readonly string[] {
  return suppliesIn(state).flatMap(({ plus, minus, volts, amps, siemens }, index) => {
    const ends = `${nodes.get(plus)} ${nodes.get(minus)}`;
    if (as === 'volts') return [`Vs${index} ${ends} DC ${volts}`];
    return [`Is${index} ${ends} DC ${-amps - siemens * volts}`, `Rs${index} ${ends} ${1 / siemens}`];
  });
}

function suppliesIn({ solver, supplies }: ConditionState) {
  return supplies.found.map(({ id, supply: { plus, minus } }) => {
    const { stamp } = solver.evaluateElement(id);
    return {
      ...{ plus, minus, volts: solver.volts(plus) - solver.volts(minus) },
      ...{ amps: -stamp.residuals[0]!, siemens: stamp.derivatives[0]! },
    };
  });
}

/**
 * Expects every node and the current of every supply of a condition to be as the simulator has it.
 *
 * @param netlist With `Vs0`, `Vs1` … in the place of the supplies.
 * @param withoutDirectCurrent Nets of ours that the netlist leaves out: nothing direct flows there.
 */
export async function expectLike(
  simulator: Simulator,
  state: ConditionState,
  netlist: string,
  withoutDirectCurrent: readonly string[],
): Promise<number> {
  const { wiring } = state.model.context;
  const { errors, names, columns } = await simulator.run(netlist);
  expect(errors).toEqual([]);
  const theirs: Record<string, number> = {};
  names.forEach((name, index) => {
    const place = placeOfNode(/^v\((\w+)\)$/i.exec(name)?.[1]?.toLowerCase() ?? '');
    if (place !== null) theirs[wiring.netAt(place)] = columns[index]![0] as number;
  });
  // A shorted input is the chassis.
  delete theirs[wiring.reference];
  expect([...Object.keys(theirs), ...withoutDirectCurrent].sort()).toEqual(
    [...state.solver.compiled.nets].sort(),
  );
  const { unlike, worstShare } = findUnlike((net) => state.volts(net), theirs);
  expect(unlike).toEqual([]);
  suppliesIn(state).forEach(({ amps }, index) => {
    const column = names.findIndex((name) => name.toLowerCase() === `i(vs${index})`);
    const drawn = -(columns[column]![0] as number);
    // The simulator's own tolerance of currents at reltol 1e-6; 0.2 nA is what our meters of 10 TΩ may take at 400 V.
    expect(Math.abs(amps - drawn), `supply ${index}: ${amps} and ${drawn}`).toBeLessThan(
      1e-6 * drawn + 0.2e-9,
    );
  });
  for (const net of withoutDirectCurrent) expect(Math.abs(state.volts(net))).toBeLessThan(10e-6);
  return worstShare;
}

/** Size of the small signal at a place, for 1 V at the netlist's source, in decibels (dB). */
export async function decibelsAt(simulator: Simulator, netlist: string, node: string): Promise<number> {
  const { errors, names, columns } = await simulator.run(netlist);
  expect(errors).toEqual([]);
  const value = columns[names.findIndex((name) => name.toLowerCase() === `v(${node})`)]?.[0];
  if (value === undefined || typeof value === 'number') throw new Error(`no complex v(${node})`);
  return 20 * Math.log10(Math.hypot(value.real, value.img));
}

/** What an ohmmeter shows at two nodes of a cold netlist, in ohms (Ω). */
export async function ohmsBetween(
  simulator: Simulator,
  netlist: (commands: readonly string[]) => string,
  [red, black]: readonly [string, string],
  amps: number,
): Promise<number> {
  const text = netlist([referenceOptions, `Iohms ${black} ${red} DC ${amps}`, '.op']);
  const { errors, names, columns } = await simulator.run(text);
  expect(errors).toEqual([]);
  const at = (node: string): number => {
    if (node === '0') return 0;
    return columns[names.findIndex((name) => name.toLowerCase() === `v(${node})`)]![0] as number;
  };
  return (at(red) - at(black)) / amps;
}
