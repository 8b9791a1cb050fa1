import { describe, expect, test } from 'vitest';
import type { CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { elementFigures, pinAmps } from '../../../shared-core/circuit/operating-point.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { bjt } from '../../../shared-core/devices/bjt.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { thermalVolts } from '../../../shared-core/devices/junction.ts';
import { led } from '../../../shared-core/devices/led.ts';
import { linearRegulator } from '../../../shared-core/devices/linear-regulator.ts';
import { mosfet } from '../../../shared-core/devices/mosfet.ts';
import { zenerParameters } from '../../../shared-core/devices/zener.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';
import { checkDevice } from '../../helpers/check-device.ts';

function solved(...elements: readonly CircuitElement[]): Solver {
  const solver = new Solver(circuit(...elements));
  expect(solver.solve()).toMatchObject({ converged: true, method: 'direct' });
  return solver;
}

function figure(solver: Solver, id: string, what: string): number {
  return elementFigures(solver, id).find((each) => each.what === what)!.value;
}

test('the laws keep the contract near their bends', () => {
  checkDevice(bjt, { volts: [-1, 1], runs: 200 });
  checkDevice(mosfet, { volts: [-6, 6], runs: 200 });
  checkDevice(led, { volts: [-3, 3], runs: 200 });
  // A finer step than the reference's bend of 0.5 mV would drown in the rounding of the pass current.
  checkDevice(linearRegulator, { volts: [-20, 20], runs: 200, parameters: { outputOhms: [0.1, 10] } });
});

describe('bipolar transistor', () => {
  test('changes its base voltage by kT/q·ln 10 for a tenfold current', () => {
    const baseVolts = (amps: number): number => {
      const drive = element('I1', currentSource, ['gnd', 'b'], { amps });
      return solved(v('V1', 'c', 5), drive, element('Q1', bjt, ['c', 'b', 'gnd'], { kneeAmps: 100 })).volts(
        'b',
      );
    };
    // Base currents far below IKF; nothing else bends the law.
    expect(baseVolts(1e-6) - baseVolts(1e-7)).toBeCloseTo(thermalVolts * Math.LN10, 6);
  });

  test('shows its gain, and a mirror image for the other polarity', () => {
    const amps = (sign: 1 | -1): readonly number[] =>
      pinAmps(
        solved(
          v('V1', 'c', 5 * sign),
          element('I1', currentSource, ['gnd', 'b'], { amps: 1e-5 * sign }),
          element('Q1', bjt, ['c', 'b', 'gnd'], { polarity: sign, earlyVolts: 1e4, kneeAmps: 100 }),
        ),
        'Q1',
      );
    const [npn, pnp] = [amps(1), amps(-1)];
    // BF = 200; the Early voltage of 10 kV adds (5 − 0.54)/10,000.
    expect(npn[0]! / npn[1]!).toBeCloseTo(200 * (1 + 4.46 / 1e4), 1);
    expect(pnp).toEqual(npn.map((each) => expect.closeTo(-each, 12)));
  });
});

describe('MOSFET', () => {
  test('saturates at K/2·(vgs − Vth)² and conducts K·(vgs − Vth) at the origin', () => {
    const run = (volts: number): number =>
      pinAmps(
        solved(
          v('V1', 'd', volts),
          v('V2', 'g', 6),
          element('Q1', mosfet, ['d', 'g', 'gnd'], {
            ...{ thresholdVolts: 4, transconductance: 0.2, subthresholdFactor: 1, modulation: 0 },
          }),
        ),
        'Q1',
      )[0]!;
    expect(run(10)).toBeCloseTo((0.2 / 2) * 4, 6);
    expect(run(1e-3) / 1e-3).toBeCloseTo(0.2 * 2, 3);
    // Reversed, the body diode takes over.
    expect(run(-0.8)).toBeLessThan(-1);
  });

  test('follows: a threshold and a little more below the gate', () => {
    const follower = solved(
      v('V1', 'd', 250),
      v('V2', 'g', 100),
      element('Q1', mosfet, ['d', 'g', 's'], { transconductance: 0.5 }),
      r('R1', 's', 'gnd', 10e3),
    );
    const over = Math.sqrt((2 * 9.6e-3) / 0.5 / 1.15);
    expect(100 - follower.volts('s')).toBeCloseTo(3.5 + over, 1);
    expect(figure(follower, 'Q1', 'dissipation')).toBeCloseTo(
      (follower.volts('s') / 10e3) * (250 - follower.volts('s')),
      4,
    );
  });
});

test('an LED and a Zener diode stand at their stated voltage with the stated slope', () => {
  const at = (
    device: typeof led | typeof diode,
    nets: readonly [string, string],
    values: object,
    amps: number,
  ) =>
    solved(
      element('I1', currentSource, ['gnd', 'x'], { amps }),
      element('D1', device, nets, values as Record<string, number>),
    ).volts('x');
  expect(at(led, ['x', 'gnd'], { forwardVolts: 1.65, forwardAmps: 5e-3 }, 5e-3)).toBeCloseTo(1.65, 6);
  const zener = zenerParameters({ volts: 12, amps: 5e-3, ohms: 25 });
  expect(at(diode, ['gnd', 'x'], zener, 5e-3)).toBeCloseTo(12, 4);
  const slope = (at(diode, ['gnd', 'x'], zener, 5.01e-3) - at(diode, ['gnd', 'x'], zener, 4.99e-3)) / 2e-5;
  expect(slope).toBeCloseTo(25, 2);
});

describe('linear regulator', () => {
  const fixed = { referenceVolts: 5, leastLoadAmps: 0, adjustAmps: 5e-3, outputOhms: 0.02, limitAmps: 1 };
  const run = (input: number, ohms: number, values: object = fixed): Solver =>
    solved(
      v('V1', 'in', input),
      element('U1', linearRegulator, ['in', 'out', 'gnd'], values as Record<string, number>),
      r('RL', 'out', 'gnd', ohms),
    );

  test('holds its voltage, less the load regulation', () => {
    const amps = 4.99 / 10;
    expect(run(12, 10).volts('out')).toBeCloseTo(5 - 0.02 * amps, 3);
    expect(figure(run(12, 10), 'U1', 'dissipation')).toBeCloseTo(7 * 0.499 + 12 * 5e-3, 1);
  });

  test('drops out below the input by the stated voltage, and more with current', () => {
    const light = run(5.5, 1000);
    expect(5.5 - light.volts('out')).toBeCloseTo(1.5, 1);
    expect(figure(light, 'U1', 'headroom')).toBeLessThan(0.1);
    const heavy = run(5.5, 8);
    expect(5.5 - heavy.volts('out')).toBeGreaterThan(1.5 + 0.9 * 0.4 * 0.45);
  });

  test('limits its current into a short', () => {
    expect(run(12, 0.5).volts('out') / 0.5).toBeCloseTo(1, 2);
  });

  test('rises above its setting without its least load', () => {
    const adjustable = (ohms: number): number =>
      solved(
        v('V1', 'in', 15),
        element('U1', linearRegulator, ['in', 'out', 'adj']),
        r('R1', 'out', 'adj', ohms),
        r('R2', 'adj', 'gnd', 4 * ohms),
      ).volts('out');
    expect(adjustable(120)).toBeCloseTo(1.25 * 5 + 50e-6 * 480, 2);
    // 1.25 V over 1.2 kΩ is 1 mA, where it wants 3.5 mA.
    expect(adjustable(1200)).toBeGreaterThan(10);
  });
});
