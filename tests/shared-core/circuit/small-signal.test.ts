import { describe, expect, it } from 'vitest';
import { solveOperatingPoint } from '../../../shared-core/circuit/operating-point.ts';
import { SmallSignal, type Stimulus } from '../../../shared-core/circuit/small-signal.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { thermalVolts } from '../../../shared-core/devices/junction.ts';
import { outputTransformer } from '../../../shared-core/devices/output-transformer.ts';
import { tappedOutputTransformer } from '../../../shared-core/devices/tapped-output-transformer.ts';
import { triode } from '../../../shared-core/devices/triode.ts';
import type { Circuit } from '../../../shared-core/circuit/circuit.ts';
import { c, circuit, element, l, r, v } from '../../helpers/circuit.ts';

const input: Stimulus = { kind: 'parameter', element: 'in', name: 'volts' };

function linearise(of: Circuit): SmallSignal {
  const solver = new Solver(of, { gminSiemens: 0 });
  expect(solver.solve().converged).toBe(true);
  return new SmallSignal(solver);
}

describe('small signal', () => {
  it('gives a low-pass of 10 kΩ and 10 nF its complex gain and corner', () => {
    const small = linearise(circuit(v('in', 'a', 0), r('R', 'a', 'b', 10e3), c('C', 'b', 'gnd', 10e-9)));
    const hertz = 1 / (2 * Math.PI * 1e-4);
    const [real, imaginary] = small.transfer(input, 'b', hertz);
    expect(real).toBeCloseTo(0.5, 12);
    expect(imaginary).toBeCloseTo(-0.5, 12);
    const band = small.passband(input, 'b', 1);
    // The gain at 1 Hz is 2e-7 below that at rest, which moves the corner as much.
    expect(Math.abs(band.highHertz! / hertz - 1)).toBeLessThan(1e-6);
    expect(band.lowHertz).toBeNull();
  });

  it('gives a high-pass of 22 nF and 470 kΩ its lower corner', () => {
    const small = linearise(circuit(v('in', 'a', 0), c('C', 'a', 'b', 22e-9), r('R', 'b', 'gnd', 470e3)));
    const exact = 1 / (2 * Math.PI * 22e-9 * 470e3);
    expect(Math.abs(small.passband(input, 'b', 100e3).lowHertz! / exact - 1)).toBeLessThan(1e-6);
  });

  it('sees a diode as N·VT / (I + IS) beside its series resistance', () => {
    const solver = new Solver(
      circuit(
        v('B', 'b', 100),
        r('R', 'b', 'a', 100e3),
        element('D', diode, ['a', 'gnd'], { seriesOhms: 0.5 }),
      ),
      { gminSiemens: 0 },
    );
    solver.solve();
    const amps = (100 - solver.volts('a')) / 100e3;
    const exact = (1.8 * thermalVolts) / (amps + 5e-9) + 0.5;
    const [ohms] = new SmallSignal(solver).impedanceBetween('a', 'gnd', 0);
    expect(Math.abs(ohms * (1 / exact + 1 / 100e3) - 1)).toBeLessThan(1e-9);
  });

  it('agrees with µ·Ra/(ra + Ra) on a bypassed triode stage, µ and ra from differences of the law', () => {
    const build = (grid: number, supply: number): Circuit =>
      circuit(
        v('B', 'b', supply),
        v('in', 'g', grid),
        r('Ra', 'b', 'a', 100e3),
        element('V1', triode, ['a', 'g', 'gnd']),
      );
    const [gain] = linearise(build(-1.5, 300)).transfer(input, 'a', 1e3);
    const up = solveOperatingPoint(build(-1.5 + 1e-3, 300), { gminSiemens: 0 }).volts['a']!;
    const down = solveOperatingPoint(build(-1.5 - 1e-3, 300), { gminSiemens: 0 }).volts['a']!;
    // A central difference over 2 mV: curvature leaves 1e-6.
    expect(Math.abs(gain / ((up - down) / 2e-3) - 1)).toBeLessThan(1e-5);
    expect(gain).toBeLessThan(-40);
  });

  it('reflects a load through the output transformer with the square of the ratio', () => {
    const small = linearise(
      circuit(
        v('in', 'a', 0),
        element('T', outputTransformer, ['a', 'gnd', 's', 'gnd'], {
          ...{ ratio: 25, primaryHenries: 10, primaryOhms: 300, secondaryOhms: 0.5 },
        }),
        r('load', 's', 'gnd', 8),
      ),
    );
    // At 1 kHz: Z of 10 H ∥ 25²·8.5 Ω, in series with 300 Ω.
    const [omegaL, reflected] = [2 * Math.PI * 1e3 * 10, 25 ** 2 * 8.5];
    const square = reflected ** 2 + omegaL ** 2;
    const [re, im] = [(reflected * omegaL ** 2) / square, (reflected ** 2 * omegaL) / square];
    const total = (300 + re) ** 2 + im ** 2;
    const core = [(re * (300 + re) + im * im) / total, (300 * im) / total] as const;
    const gain = 8 / 8.5 / 25;
    const [real, imaginary] = small.transfer(input, 's', 1e3);
    expect(real).toBeCloseTo(core[0] * gain, 12);
    expect(imaginary).toBeCloseTo(core[1] * gain, 12);
  });

  it('gives the tapped transformer without a load on its tap the same gain, and the tap its part', () => {
    const values = { ratio: 25, primaryHenries: 10, primaryOhms: 300, secondaryOhms: 0.5 };
    const plain = linearise(
      circuit(
        v('in', 'a', 0),
        element('T', outputTransformer, ['a', 'gnd', 's', 'gnd'], values),
        r('load', 's', 'gnd', 8),
      ),
    );
    const tapped = linearise(
      circuit(
        v('in', 'a', 0),
        element('T', tappedOutputTransformer, ['a', 't', 'gnd', 's', 'gnd'], { ...values, tap: 0.43 }),
        r('load', 's', 'gnd', 8),
      ),
    );
    expect(tapped.transfer(input, 's', 50)[0]).toBeCloseTo(plain.transfer(input, 's', 50)[0], 12);
    expect(tapped.transfer(input, 't', 1e3)[0]).toBeCloseTo(0.57, 9);
  });

  it('finds the resonance impedance of a damped parallel circuit', () => {
    const small = linearise(
      circuit(l('L', 'a', 'gnd', 10, 0), c('C', 'a', 'gnd', 1e-6), r('R', 'a', 'gnd', 47e3)),
    );
    const [ohms, reactance] = small.impedanceBetween('a', 'gnd', 1 / (2 * Math.PI * Math.sqrt(1e-5)));
    expect(ohms).toBeCloseTo(47e3, 4);
    expect(Math.abs(reactance)).toBeLessThan(1e-3);
    expect(small.admittanceBetween('a', 'gnd', 1 / (2 * Math.PI * Math.sqrt(1e-5)))[0]).toBeCloseTo(
      1 / 47e3,
      12,
    );
  });

  it('gives adjoint sensitivities that equal differences of two operating points', () => {
    const build = (ra: number, mu: number): Circuit =>
      circuit(
        v('B', 'b', 300),
        r('Ra', 'b', 'a', ra),
        r('Rk', 'k', 'gnd', 1500),
        r('Rg', 'g', 'gnd', 1e6),
        element('V1', triode, ['a', 'g', 'k'], { mu }),
      );
    const solver = new Solver(build(100e3, 98.11));
    solver.solve();
    const sensitivity = new SmallSignal(solver).sensitivityOf('a', 'k');
    const across = (ra: number, mu: number): number => {
      const { volts } = solveOperatingPoint(build(ra, mu));
      return volts['a']! - volts['k']!;
    };
    const byOhms = (across(100.1e3, 98.11) - across(99.9e3, 98.11)) / 200;
    const byMu = (across(100e3, 98.12) - across(100e3, 98.1)) / 0.02;
    // Central differences over 0.1 % and 0.01 %: the third derivative leaves 1e-6.
    expect(Math.abs(sensitivity('Ra', 'ohms') / byOhms - 1)).toBeLessThan(1e-5);
    expect(Math.abs(sensitivity('V1', 'mu') / byMu - 1)).toBeLessThan(1e-5);
  });
});
