import { describe, expect, it } from 'vitest';
import {
  elementFigures,
  pinAmps,
  solveOperatingPoint,
} from '../../../shared-core/circuit/operating-point.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import type { Device } from '../../../shared-core/circuit/device.ts';
import { capacitor } from '../../../shared-core/devices/capacitor.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { thermalVolts } from '../../../shared-core/devices/junction.ts';
import { fuse } from '../../../shared-core/devices/fuse.ts';
import { heater } from '../../../shared-core/devices/heater.ts';
import { inductor } from '../../../shared-core/devices/inductor.ts';
import { lamp } from '../../../shared-core/devices/lamp.ts';
import { outputTransformer } from '../../../shared-core/devices/output-transformer.ts';
import { potentiometer } from '../../../shared-core/devices/potentiometer.ts';
import { switchContact } from '../../../shared-core/devices/switch.ts';
import { tappedOutputTransformer } from '../../../shared-core/devices/tapped-output-transformer.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';

/** What an ohmmeter sees between two pins, the others open, in ohms (Ω). */
function ohmsBetween(
  device: Device,
  one: string,
  other: string,
  parameters: Readonly<Record<string, number>> = {},
): number {
  const nets = device.pins.map((pin) => (pin === other ? 'gnd' : pin === one ? 'a' : `open-${pin}`));
  const { branchAmps } = solveOperatingPoint(
    circuit(v('in', 'a', 1), element('X', device, nets, parameters)),
    {
      gminSiemens: 1e-15,
    },
  );
  return -1 / branchAmps['in.current']!;
}

const ratio = (value: number, expected: number): number => Math.abs(value / expected - 1);

describe('potentiometer', () => {
  it('shows the whole track between its ends, wherever the wiper stands', () => {
    for (const position of [0.1, 0.5, 0.9]) {
      expect(ratio(ohmsBetween(potentiometer, 'ccw', 'cw', { ohms: 470e3, position }), 470e3)).toBeLessThan(
        1e-6,
      );
    }
  });

  it('gives a third of a linear track at a third of its travel, a tenth of a logarithmic one at half', () => {
    const linear = { ohms: 100e3, position: 1 / 3 };
    expect(ratio(ohmsBetween(potentiometer, 'ccw', 'wiper', linear), 100e3 / 3)).toBeLessThan(1e-6);
    const logarithmic = { ohms: 100e3, position: 0.5, taper: 1 };
    expect(ratio(ohmsBetween(potentiometer, 'wiper', 'ccw', logarithmic), 10e3)).toBeLessThan(1e-6);
  });

  it('keeps 0.1 Ω at its ends', () => {
    expect(ratio(ohmsBetween(potentiometer, 'ccw', 'wiper', { position: 0 }), 0.1)).toBeLessThan(1e-6);
    expect(ratio(ohmsBetween(potentiometer, 'cw', 'wiper', { position: 1, taper: 1 }), 0.1)).toBeLessThan(
      1e-6,
    );
  });
});

describe('what an ohmmeter sees', () => {
  it.each([
    ['a choke: its copper', inductor, '1', '2', { ohms: 185 }, 185],
    ['a closed switch', switchContact, 'a', 'b', { closedOhms: 0.05 }, 0.05],
    ['an open switch', switchContact, 'a', 'b', { closed: 0 }, 1e12],
    ['an intact fuse', fuse, 'a', 'b', { ohms: 1.5 }, 1.5],
    ['a blown fuse', fuse, 'a', 'b', { intact: 0 }, 1e12],
    ['a hot 6.3 V 0.76 A heater', heater, '1', '2', { ratedVolts: 6.3, ratedAmps: 0.76 }, 6.3 / 0.76],
    ['a cold one', heater, '1', '2', { ratedVolts: 6.3, ratedAmps: 0.76, hot: 0 }, (0.15 * 6.3) / 0.76],
    ['a leaking capacitor', capacitor, 'plus', 'minus', { leakageSiemens: 1e-6 }, 1e6],
    [
      'an output transformer: the primary',
      outputTransformer,
      'primary-a',
      'primary-b',
      { primaryOhms: 310 },
      310,
    ],
    ['its secondary', outputTransformer, 'secondary-a', 'secondary-b', { secondaryOhms: 0.6 }, 0.6],
    [
      'a tap at 43 %',
      tappedOutputTransformer,
      'primary-a',
      'tap',
      { primaryOhms: 310, tap: 0.43 },
      0.43 * 310,
    ],
  ] as const)('%s', (_title, device, one, other, parameters, expected) => {
    // A 1e-15 S tie beside 1e12 Ω leaves 1e-3.
    expect(ratio(ohmsBetween(device, one, other, parameters), expected)).toBeLessThan(
      expected > 1e9 ? 2e-3 : 1e-6,
    );
  });

  it('shows no path between primary and secondary', () => {
    expect(ohmsBetween(outputTransformer, 'primary-a', 'secondary-a')).toBeGreaterThan(1e12);
  });
});

describe('lamp', () => {
  it('takes its rated power at its rated voltage', () => {
    const solver = new Solver(
      circuit(v('in', 'a', 230), element('L', lamp, ['a', 'gnd'], { ratedWatts: 60 })),
    );
    solver.solve();
    expect(pinAmps(solver, 'L')[0]).toBeCloseTo(60 / 230, 12);
    expect(elementFigures(solver, 'L').at(-1)).toMatchObject({ value: expect.closeTo(1, 12) });
  });

  it('is a twelfth of its hot resistance when cold', () => {
    const { branchAmps } = solveOperatingPoint(
      circuit(v('in', 'a', 1e-6), element('L', lamp, ['a', 'gnd'], { ratedWatts: 60 })),
    );
    expect(ratio(-1e-6 / branchAmps['in.current']!, 230 ** 2 / 60 / 12)).toBeLessThan(1e-3);
  });

  // Share of the mains left for a resistive load behind the lamp, I ∝ V^0.55 (closed form of the pure power law):
  // lamp = load 60 %, 100 W lamp and 60 W load 76 %, 60 W lamp and 100 W load on 120 V 44 %.
  it.each([
    [230, 60, 60, 0.6],
    [230, 100, 60, 0.76],
    [120, 60, 100, 0.44],
  ])('on %d V a %d W lamp leaves a %d W load its share', (volts, lampWatts, loadWatts, share) => {
    const { volts: solved } = solveOperatingPoint(
      circuit(
        v('in', 'a', volts),
        element('L', lamp, ['a', 'b'], { ratedVolts: volts, ratedWatts: lampWatts }),
        r('load', 'b', 'gnd', volts ** 2 / loadWatts),
      ),
    );
    // Two figures are given; the cold resistance adds 0.5 % of the mains where the lamp is dim.
    expect(Math.abs(solved['b']! / volts - share)).toBeLessThan(0.01);
  });
});

describe('diode', () => {
  const amps = (volts: number, parameters: Readonly<Record<string, number>> = {}): number =>
    -solveOperatingPoint(circuit(v('in', 'a', volts), element('D', diode, ['a', 'gnd'], parameters)), {
      gminSiemens: 0,
    }).branchAmps['in.current']!;

  it('satisfies I = IS·(exp((V − I·RS)/(N·VT)) − 1)', () => {
    for (const volts of [-5, 0.3, 0.6, 0.75, 1, 3]) {
      const current = amps(volts);
      const exact = 5e-9 * Math.expm1((volts - 0.05 * current) / (1.8 * thermalVolts));
      // The exponent multiplies the solver's 1e-9 V by 1/(N·VT) = 21; rounding of a difference of 5 nA.
      expect(Math.abs(current - exact)).toBeLessThan(2e-8 * Math.abs(exact) + 1e-17);
    }
  });

  it('leaks its saturation current backwards', () => {
    expect(amps(-100)).toBeCloseTo(-5e-9, 18);
  });

  it('holds its breakdown voltage at the stated current', () => {
    const zener = { breakdownVolts: 12, breakdownOhms: 5, breakdownAmps: 1e-3, saturationAmps: 1e-14 };
    // At 1 mA the junction itself needs ln(1) = 0 V, so 12 V and 5 mV over the resistance.
    expect(amps(-12.005, zener)).toBeCloseTo(-1e-3, 12);
    expect(Math.abs(amps(-11, zener))).toBeLessThan(1e-12);
  });
});

describe('slow loop', () => {
  it('reaches parameters that no longer change, with the admittance of the rest as the devices see it', () => {
    const seen: (readonly [number, number])[] = [];
    const follower: Device = {
      name: 'follower',
      pins: ['1', '2'],
      parameters: [{ name: 'ohms', unit: 'Ω', initial: 1e3, range: [1, 1e6], meaning: 'Resistance' }],
      linear: true,
      evaluate: (unknowns, parameters, out) => {
        const siemens = 1 / parameters[0]!;
        out.residuals.set([(unknowns[0]! - unknowns[1]!) * siemens, (unknowns[1]! - unknowns[0]!) * siemens]);
        out.derivatives.set([siemens, -siemens, -siemens, siemens]);
      },
      // Ohms follow the voltage: R = 100·V, so I is 10 mA whatever the voltage.
      refine: (unknowns, parameters, context) => {
        seen.push(context.admittanceAround(0, 1, 50));
        const next = 100 * (unknowns[0]! - unknowns[1]!);
        const change = Math.abs(next / parameters[0]! - 1);
        parameters[0] = next;
        return change;
      },
    };
    const solver = new Solver(
      circuit(
        v('in', 'a', 30),
        r('R', 'a', 'b', 500),
        element('C', capacitor, ['b', 'gnd'], { farads: 1e-6 }),
        element('F', follower, ['b', 'gnd']),
      ),
      { maxRounds: 60 },
    );
    expect(solver.solve().converged).toBe(true);
    // 30 V = 500 Ω · 10 mA + V.
    expect(solver.volts('b')).toBeCloseTo(25, 6);
    expect(seen[0]![0]).toBeCloseTo(1 / 500, 9);
    expect(seen[0]![1]).toBeCloseTo(2 * Math.PI * 50 * 1e-6, 12);
    const impatient = new Solver(solver.compiled, { maxRounds: 2 });
    expect(impatient.solve()).toMatchObject({ converged: false, failure: { kind: 'unsettled', at: 'F' } });
  });
});
