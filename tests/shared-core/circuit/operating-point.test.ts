import { describe, expect, it } from 'vitest';
import type { Circuit, CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { defineDevice } from '../../../shared-core/circuit/device.ts';
import {
  elementWatts,
  pinAmps,
  readOperatingPoint,
  solveOperatingPoint,
} from '../../../shared-core/circuit/operating-point.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { resistor } from '../../../shared-core/devices/resistor.ts';
import { voltageSource } from '../../../shared-core/devices/voltage-source.ts';

const r = (id: string, one: string, other: string, ohms: number): CircuitElement => ({
  ...{ id, device: resistor, nets: [one, other], parameters: { ohms } },
});
const v = (id: string, plus: string, volts: number): CircuitElement => ({
  ...{ id, device: voltageSource, nets: [plus, 'gnd'], parameters: { volts } },
});
const circuit = (...elements: CircuitElement[]): Circuit => ({ elements, reference: 'gnd' });

/** Child–Langmuir with an amplification factor: I = G·(Vg + Va/µ)^1.5, the simplest triode. */
const simpleTriode = defineDevice({
  name: 'simple-triode',
  pins: ['anode', 'grid', 'cathode'],
  parameters: [
    { name: 'perveance', unit: 'A/V^1.5', initial: 1e-3, range: [1e-6, 1], meaning: 'Perveance' },
    { name: 'mu', unit: '', initial: 100, range: [1, 200], meaning: 'Amplification factor' },
  ],
  evaluate(unknowns, [perveance, mu], out) {
    const drive = unknowns[1]! - unknowns[2]! + (unknowns[0]! - unknowns[2]!) / mu!;
    const root = Math.sqrt(Math.max(drive, 0));
    const amps = perveance! * root ** 3;
    const slope = 1.5 * perveance! * root;
    out.residuals.set([amps, 0, -amps]);
    const row = [slope / mu!, slope, -slope * (1 + 1 / mu!)];
    out.derivatives.set([...row, 0, 0, 0, ...row.map((each) => -each)]);
  },
});

describe('operating point', () => {
  it('solves a loaded divider: 300 V, 100 kΩ over 50 kΩ ∥ 10 MΩ meter', () => {
    const point = solveOperatingPoint(
      circuit(
        v('B', 'b', 300),
        r('R1', 'b', 'm', 100e3),
        r('R2', 'm', 'gnd', 50e3),
        r('M', 'm', 'gnd', 10e6),
      ),
      { gminSiemens: 0 },
    );
    const lower = 1 / (1 / 50e3 + 1 / 10e6);
    expect(point.converged).toBe(true);
    // Rounding only: the circuit is linear.
    expect(point.volts['m']).toBeCloseTo((300 * lower) / (lower + 100e3), 10);
    expect(point.branchAmps['B.current']).toBeCloseTo(-300 / (lower + 100e3), 15);
    expect(point.iterations).toBeLessThanOrEqual(2);
  });

  it('finds the triode stage that was built backwards from 1.2 mA, 250 V and −2 V', () => {
    // Chosen: Ia = 1.2 mA at Va−k = 250 V, Vg−k = −2 V, µ 200 → drive −2 + 250/200 would be cut off, so µ = 100.
    const drive = -2 + 250 / 100;
    const perveance = 1.2e-3 / drive ** 1.5;
    const cathodeOhms = 2 / 1.2e-3;
    const supply = 2 + 250 + 100e3 * 1.2e-3;
    const stage = circuit(
      v('B', 'b', supply),
      r('Ra', 'b', 'a', 100e3),
      r('Rg', 'g', 'gnd', 1e6),
      r('Rk', 'k', 'gnd', cathodeOhms),
      { id: 'V1', device: simpleTriode, nets: ['a', 'g', 'k'], parameters: { perveance, mu: 100 } },
    );
    const solver = new Solver(stage, { gminSiemens: 0 });
    expect(solver.solve().converged).toBe(true);
    const point = readOperatingPoint(solver);
    // The last Newton step is below 1e-9 of the value, and convergence is quadratic.
    expect(Math.abs(point.volts['a']! - 252)).toBeLessThan(1e-6);
    expect(Math.abs(point.volts['k']! - 2)).toBeLessThan(1e-8);
    expect(point.residualAmps).toBeLessThan(1e-12);
    expect(point.iterations).toBeLessThan(15);
    expect(pinAmps(solver, 'V1')[0]).toBeCloseTo(1.2e-3, 10);
    const watts = stage.elements.reduce((sum, { id }) => sum + elementWatts(solver, id), 0);
    expect(Math.abs(watts)).toBeLessThan(1e-9);
  });

  it('re-solves after a changed parameter as a fresh circuit would', () => {
    const build = (ohms: number): Circuit =>
      circuit(
        v('B', 'b', 300),
        r('Ra', 'b', 'a', ohms),
        r('Rk', 'k', 'gnd', 1500),
        r('Rg', 'g', 'gnd', 1e6),
        {
          id: 'V1',
          device: simpleTriode,
          nets: ['a', 'g', 'k'],
          parameters: {},
        },
      );
    const solver = new Solver(build(100e3));
    solver.solve();
    solver.setParameter('Ra', 'ohms', 220e3);
    const outcome = solver.solve(true);
    expect(outcome.converged).toBe(true);
    expect(outcome.iterations).toBeLessThanOrEqual(8);
    expect(solver.volts('a')).toBeCloseTo(solveOperatingPoint(build(220e3)).volts['a']!, 6);
  });

  it('names the loop of two voltage sources as singular instead of answering', () => {
    const point = solveOperatingPoint(circuit(v('A', 'x', 5), v('B', 'x', 6)));
    expect(point.converged).toBe(false);
    expect(point.failure).toMatchObject({ kind: 'singular' });
    expect(point.failure!.at).toMatch(/^[AB]\.current$|^x$/);
    expect(point.volts).toEqual({});
  });

  it('lists nets that nothing ties to the reference', () => {
    const point = solveOperatingPoint(circuit(v('A', 'x', 5), r('R', 'x', 'gnd', 1e3), r('F', 'p', 'q', 10)));
    expect(point.converged).toBe(true);
    expect(point.floatingNets).toEqual(['p', 'q']);
  });

  it('says which device gave no number', () => {
    const broken = defineDevice({
      name: 'broken',
      pins: ['1', '2'],
      parameters: [],
      evaluate: (_unknowns, _parameters, out) => {
        out.residuals[0] = NaN;
      },
    });
    const point = solveOperatingPoint(
      circuit(v('A', 'x', 5), { id: 'X1', device: broken, nets: ['x', 'gnd'], parameters: {} }),
    );
    expect(point.failure).toEqual({ kind: 'not-finite', at: 'X1' });
  });

  it('lets a current source raise a resistor to I·R', () => {
    const point = solveOperatingPoint(
      circuit(
        { id: 'I', device: currentSource, nets: ['gnd', 'x'], parameters: { amps: 2e-3 } },
        r('R', 'x', 'gnd', 5e3),
      ),
      { gminSiemens: 0 },
    );
    expect(point.volts['x']).toBeCloseTo(10, 10);
  });
});
