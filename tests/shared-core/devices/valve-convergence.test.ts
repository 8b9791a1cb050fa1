import { describe, expect, it } from 'vitest';
import type { CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import { sectionDevice } from '../../../shared-core/valves/section-law.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';

const resistors: readonly (readonly [string, string, string, number])[] = [
  ['R-dropper-1', 'b0', 'b1', 120],
  ['R-dropper-2', 'b1', 'b2', 1000],
  ['R-dropper-3', 'b2', 'b3', 22e3],
  ['R-anode-1', 'b3', 'a1', 100e3],
  ['R-cathode-1', 'k1', 'gnd', 1500],
  ['R-grid-1', 'g1', 'gnd', 1e6],
  ['R-anode-2', 'b3', 'a2', 100e3],
  ['R-cathode-2', 'k2', 'gnd', 1500],
  ['R-grid-2', 'g2', 'gnd', 470e3],
  ['R-grid-3', 'g3', 'gnd', 470e3],
  ['R-stopper-3', 'g3', 'g3p', 1e3],
  ['R-cathode-3', 'k3', 'gnd', 210],
  ['R-screen-3', 'b2', 's3', 100],
  ['T-primary', 'b1', 'a3', 220],
  // Coupling capacitors as their insulation.
  ['C-coupling-1', 'a1', 'g2', 1e12],
  ['C-coupling-2', 'a2', 'g3', 1e12],
];

function valve(id: string, type: string, nets: readonly string[]): CircuitElement {
  const section = findValveType(type)!.sections[0]!;
  return element(id, sectionDevice(section), nets, section.parameters);
}

/** Two ECC83 stages and an EL84, solved with one resistor at another value. */
function solveWith(fault: string, ohms: number): Solver {
  const solver = new Solver(
    circuit(
      v('VB', 'b0', 285),
      ...resistors.map(([id, one, other, healthy]) => r(id, one, other, id === fault ? ohms : healthy)),
      valve('V1', 'ECC83', ['a1', 'g1', 'k1']),
      valve('V2', 'ECC83', ['a2', 'g2', 'k2']),
      valve('V3', 'EL84', ['a3', 's3', 'g3p', 'k3']),
    ),
  );
  solver.solve();
  return solver;
}

describe('a single-ended amplifier with one part open or shorted', () => {
  const faults = resistors.flatMap(([id]) => [
    { id, how: 'open', ohms: 1e12 },
    { id, how: 'shorted', ohms: 0.1 },
  ]);

  it('solves in a handful of iterations while healthy', () => {
    const { outcome } = solveWith('', 0);
    expect(outcome.converged).toBe(true);
    expect(outcome.iterations).toBeLessThanOrEqual(6);
  });

  it.each(faults)('solves $id $how without stepping', ({ id, ohms }) => {
    const { outcome } = solveWith(id, ohms);
    expect(outcome.converged).toBe(true);
    expect(outcome.method).toBe('direct');
    expect(outcome.iterations).toBeLessThanOrEqual(30);
  });

  it('puts B+ on the anode and no volts on the cathode of a valve that is cold', () => {
    const solver = solveWith('', 0);
    solver.setParameter('V3', 'emission', 0);
    expect(solver.solve(true).converged).toBe(true);
    // Only the solver's conductance of 1e-12 S draws current: 62 nV over 210 Ω and less.
    expect(Math.abs(solver.volts('k3'))).toBeLessThan(1e-6);
    expect(solver.volts('b1') - solver.volts('a3')).toBeLessThan(1e-6);
  });
});
