/**
 * Valve stages against a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` at reltol 1e-6,
 * vntol 1e-8, abstol 1e-14 and a shunt of 1e12 Ω on every node (the solver's own gmin of 1e-12 S). Volts.
 */
import { Simulation } from 'eecircuit-engine';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Circuit, CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { solveOperatingPoint } from '../../../shared-core/circuit/operating-point.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import { sectionDevice } from '../../../shared-core/valves/section-law.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';
import { valveDevices, valveLines } from '../../helpers/valve-netlist.ts';

function valve(
  id: string,
  type: string,
  nets: readonly string[],
  changes: Readonly<Record<string, number>> = {},
): CircuitElement {
  const section = findValveType(type)!.sections[0]!;
  return element(id, sectionDevice(section), nets, { ...section.parameters, ...changes });
}

const triodeStage = (drive: number, changes: Readonly<Record<string, number>> = {}): Circuit =>
  circuit(
    v('VB', 'b', 250),
    v('VIN', 'in', drive),
    r('RS', 'in', 'g', 68e3),
    r('RA', 'b', 'a', 100e3),
    r('RK', 'k', 'gnd', 1500),
    valve('V1', 'ECC83', ['a', 'g', 'k'], changes),
  );

const outputStage = (
  drive: number,
  { anodeOhms = 220, screenOhms = 1000, changes = {} as Readonly<Record<string, number>> } = {},
): Circuit =>
  circuit(
    v('VB', 'b', 262),
    v('VIN', 'in', drive),
    r('RG', 'in', 'g', 470e3),
    r('RT', 'b', 'a', anodeOhms),
    r('RS', 'b', 's', screenOhms),
    r('RK', 'k', 'gnd', 210),
    valve('V1', 'EL84', ['a', 's', 'g', 'k'], changes),
  );

const stages: readonly { title: string; circuit: Circuit }[] = [
  { title: 'ECC83 with cathode bias', circuit: triodeStage(0) },
  { title: 'ECC83 driven into grid current', circuit: triodeStage(8) },
  { title: 'ECC83 cut off', circuit: triodeStage(-12) },
  { title: 'ECC83 weak and gassy', circuit: triodeStage(0, { emission: 0.5, gasRatio: 1e-3 }) },
  { title: 'EL84 with cathode bias', circuit: outputStage(0) },
  { title: 'EL84 in the knee', circuit: outputStage(0, { anodeOhms: 47e3 }) },
  { title: 'EL84 with its screen all but open', circuit: outputStage(0, { screenOhms: 100e6 }) },
  { title: 'EL84 with a leaky coupling capacitor', circuit: outputStage(60) },
  { title: 'EL84 with a sloping law', circuit: outputStage(0, { changes: { lambda: 3e-4 } }) },
  {
    title: '300B with cathode bias',
    circuit: circuit(
      v('VB', 'b', 420),
      r('RT', 'b', 'a', 120),
      r('RG', 'g', 'gnd', 220e3),
      r('RK', 'k', 'gnd', 1000),
      valve('V1', '300B', ['a', 'g', 'k']),
    ),
  },
  {
    title: '6AS7G half with cathode bias',
    circuit: circuit(
      v('VB', 'a', 135),
      r('RG', 'g', 'gnd', 220e3),
      r('RK', 'k', 'gnd', 250),
      valve('V1', '6AS7G', ['a', 'g', 'k']),
    ),
  },
  {
    title: 'EF86 as a voltage amplifier',
    circuit: circuit(
      v('VB', 'b', 250),
      r('RA', 'b', 'a', 100e3),
      r('RS', 'b', 's', 390e3),
      r('RG', 'g', 'gnd', 1e6),
      r('RK', 'k', 'gnd', 1000),
      valve('V1', 'EF86', ['a', 's', 'g', 'k']),
    ),
  },
  {
    title: 'both anodes of an EZ81 on unlike voltages',
    circuit: circuit(
      v('V1', 'one', 300),
      v('V2', 'two', 290),
      r('R1', 'one', 'a1', 200),
      r('R2', 'two', 'a2', 200),
      r('RL', 'k', 'gnd', 3000),
      valve('V3', 'EZ81', ['a1', 'k']),
      valve('V4', 'EZ81', ['a2', 'k']),
    ),
  },
];

function netlist({ elements }: Circuit): string {
  const nodeOf = (net: string): string => (net === 'gnd' ? '0' : `n_${net}`);
  const lines = elements.flatMap((each): readonly string[] => {
    if (valveDevices.includes(each.device.name)) return valveLines(each, nodeOf);
    const nodes = each.nets.map(nodeOf).join(' ');
    if (each.device.name === 'resistor') return [`r${each.id} ${nodes} ${each.parameters['ohms']}`];
    return [`v${each.id} ${nodes} ${each.parameters['volts']}`];
  });
  const options = '.options reltol=1e-6 vntol=1e-8 abstol=1e-14 itl1=300 rshunt=1e12';
  return ['valve stage', ...lines, options, '.op', '.end', ''].join('\n');
}

describe('valve stages agree with the reference simulator', () => {
  let simulation: Simulation;
  beforeAll(async () => {
    simulation = new Simulation();
    await simulation.start();
  });

  it.each(stages)('$title', async ({ circuit: stage }) => {
    simulation.setNetList(netlist(stage));
    const result = await simulation.runSim();
    expect(simulation.getError().filter((line) => /^(Error|Warning)/.test(line))).toEqual([]);
    const reference = new Map(result.data.map(({ name, values }) => [name, Number(values[0])]));
    const solved = solveOperatingPoint(stage);
    expect(solved.converged).toBe(true);
    for (const [net, volts] of Object.entries(solved.volts)) {
      if (net === 'gnd') continue;
      const expected = reference.get(`v(n_${net.toLowerCase()})`);
      expect(expected, net).toBeDefined();
      // The simulator's own tolerance: 1e-6 relative; 10 µV near zero volts.
      expect(Math.abs(volts - expected!), net).toBeLessThanOrEqual(
        Math.max(1e-6 * Math.abs(expected!), 10e-6),
      );
    }
  });
});
