/**
 * Operating points and small signal against a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` and `.ac lin 1` at
 * reltol 1e-6, vntol 1e-8, abstol 1e-14, itl1 300, 27 °C, with 1e12 Ω from every net to the reference as the
 * solver has it. Volts. `Simulator` in tests/helpers holds the exact netlists.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Circuit } from '../../../shared-core/circuit/circuit.ts';
import { readOperatingPoint } from '../../../shared-core/circuit/operating-point.ts';
import { SmallSignal } from '../../../shared-core/circuit/small-signal.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { lamp } from '../../../shared-core/devices/lamp.ts';
import { pentode } from '../../../shared-core/devices/pentode.ts';
import { potentiometer } from '../../../shared-core/devices/potentiometer.ts';
import { tappedOutputTransformer } from '../../../shared-core/devices/tapped-output-transformer.ts';
import { triode } from '../../../shared-core/devices/triode.ts';
import { c, circuit, element, r, v } from '../../helpers/circuit.ts';
import { outputStage } from '../../helpers/output-stage.ts';
import { Simulator } from '../../helpers/simulator.ts';

const zener = { breakdownVolts: 12, breakdownOhms: 5, breakdownAmps: 1e-4 };

/** Two triode sections, RC-coupled, with a decoupled supply, volume control and a 10 MΩ meter on the anode. */
const preamplifier = circuit(
  v('B', 'b', 300),
  v('in', 'in', 0),
  ...[r('R1', 'b', 'b1', 10e3), c('C1', 'b1', 'gnd', 22e-6)],
  ...[r('R2', 'in', 'g1', 68e3), r('R3', 'in', 'gnd', 1e6), r('R4', 'b1', 'a1', 100e3)],
  ...[r('R5', 'k1', 'gnd', 1500), c('C2', 'k1', 'gnd', 22e-6), c('C3', 'a1', 'p', 22e-9)],
  element('P1', potentiometer, ['gnd', 'g2', 'p'], { ohms: 470e3, position: 0.7, taper: 1 }),
  ...[r('R6', 'b1', 'a2', 100e3), r('R7', 'k2', 'gnd', 1500), c('C4', 'a2', 'out', 100e-9)],
  ...[r('R8', 'out', 'gnd', 1e6), r('meter', 'a1', 'gnd', 10e6)],
  element('V1', triode, ['a1', 'g1', 'k1']),
  element('V2', triode, ['a2', 'g2', 'k2']),
);

const ultraLinear = circuit(
  v('B', 'b', 300),
  v('in', 'g', -9),
  element('T1', tappedOutputTransformer, ['b', 's', 'a', 'out', 'gnd'], { ratio: 30, tap: 0.43 }),
  ...[r('R1', 'k', 'gnd', 100), r('load', 'out', 'gnd', 8)],
  element('V1', pentode, ['a', 's', 'g', 'k']),
);

const circuits: readonly { title: string; of: Circuit }[] = [
  {
    title: 'a bridge of resistors over nine decades',
    of: circuit(
      v('B', 'b', 400),
      ...[r('R1', 'b', 'x', 0.1), r('R2', 'x', 'y', 1e6), r('R3', 'y', 'gnd', 4.7e6), r('R4', 'b', 'z', 220)],
      ...[r('R5', 'z', 'y', 1e8), r('R6', 'z', 'gnd', 33e3)],
    ),
  },
  {
    title: 'diodes both ways and a Zener regulator',
    of: circuit(
      v('B', 'b', 40),
      ...[
        r('R1', 'b', 'z', 1e3),
        r('R2', 'z', 'd', 4700),
        r('R3', 'n', 'b', 10e3),
        r('R4', 'n', 'gnd', 2200),
      ],
      element('D1', diode, ['d', 'gnd']),
      element('D2', diode, ['gnd', 'n'], { seriesOhms: 1 }),
      element('Z1', diode, ['gnd', 'z'], zener),
    ),
  },
  {
    title: 'a lamp in series with a load',
    of: circuit(
      v('B', 'b', 230),
      r('load', 'x', 'gnd', 900),
      element('L', lamp, ['b', 'x'], { ratedWatts: 60 }),
    ),
  },
  { title: 'two RC-coupled triodes with a control and a meter', of: preamplifier },
  { title: 'a triode and a pentode with an output transformer', of: outputStage },
  { title: 'an ultra-linear pentode', of: ultraLinear },
];

describe('against the reference simulator', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(circuits)('agrees on every net of $title', async ({ of }) => {
    const reference = await simulator.operatingPoint(of);
    const solver = new Solver(of);
    expect(solver.solve().converged).toBe(true);
    const { volts, residualAmps, iterations } = readOperatingPoint(solver);
    expect(residualAmps).toBeLessThan(1e-9);
    expect(iterations).toBeLessThanOrEqual(30);
    expect(Object.keys(reference)).toHaveLength(Object.keys(volts).length - 1);
    for (const [net, expected] of Object.entries(reference)) {
      // The simulator's own tolerance: 1e-6 relative; 10 µV near zero volts.
      const allowed = Math.max(1e-6 * Math.abs(expected), 10e-6);
      expect(Math.abs(volts[net]! - expected), `${net}: ${volts[net]} and ${expected}`).toBeLessThanOrEqual(
        allowed,
      );
    }
  });

  it.each([
    { title: 'two RC-coupled triodes', of: preamplifier, net: 'out' },
    { title: 'a pentode with an output transformer', of: outputStage, net: 'out' },
    { title: 'an ultra-linear pentode', of: ultraLinear, net: 'out' },
  ])('agrees on the gain of $title at 20 Hz, 1 kHz and 10 kHz', async ({ of, net }) => {
    const solver = new Solver(of);
    solver.solve();
    const small = new SmallSignal(solver);
    for (const hertz of [20, 1e3, 10e3]) {
      const [real, imaginary] = (await simulator.smallSignal(of, 'in', hertz))[net]!;
      const ours = small.transfer({ kind: 'parameter', element: 'in', name: 'volts' }, net, hertz);
      // The simulator linearises at its own operating point, good to 1e-6; gm moves about five times as much.
      const allowed = 5e-6 * Math.hypot(real, imaginary);
      expect(Math.hypot(ours[0] - real, ours[1] - imaginary), `${hertz} Hz`).toBeLessThanOrEqual(allowed);
      expect(Math.hypot(real, imaginary)).toBeGreaterThan(0.1);
    }
  });

  it('refuses a netlist that the simulator would answer with zeros', async () => {
    const result = await simulator.run('broken\nr1 a 0\nv1 a 0 1\n.op\n.end\n');
    expect(result.errors.length).toBeGreaterThan(0);
  });
});
