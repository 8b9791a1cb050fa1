import { describe, expect, test } from 'vitest';
import {
  averageChoke,
  chokeShare,
  continuousAngle,
  continuousShare,
} from '../../../shared-core/circuit/supply/choke-law.ts';
import { averagePump } from '../../../shared-core/circuit/supply/pump-shooting.ts';
import { reducePhase } from '../../../shared-core/circuit/supply/rectifier-law.ts';
import { elementFigures } from '../../../shared-core/circuit/operating-point.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { chargePumpSupply } from '../../../shared-core/devices/charge-pump-supply.ts';
import { chokeInputSupply } from '../../../shared-core/devices/choke-input-supply.ts';
import { doublerSupply } from '../../../shared-core/devices/doubler-supply.ts';
import { c, circuit, element, l, r } from '../../helpers/circuit.ts';
import { checkDevice } from '../../helpers/check-device.ts';

const sane = {
  phase1EmfVolts: [5, 800],
  phase2EmfVolts: [5, 800],
  phase1Ohms: [0.1, 1000],
  phase2Ohms: [0.1, 1000],
} as const;

test.each([chokeInputSupply, chargePumpSupply, doublerSupply])(
  '$name keeps the rules of a device with every rectifier',
  (device) => {
    for (const law of [0, 1, 2]) {
      const laws = { phase1Law: [law, law], phase2Law: [law, law] } as const;
      checkDevice(device, { volts: [-500, 700], parameters: { ...sane, ...laws }, runs: 150 });
    }
  },
);

describe('choke input', () => {
  test('meets the critical current of the handbooks', () => {
    const out = new Float64Array(2);
    chokeShare(continuousAngle, true, out);
    // Critical: the second harmonic's crest over 2ωL equals the mean. The 4/(3π) of the second harmonic alone
    // gives 0.2122; all harmonics together, as the exact integral has them, 0.2105 (½ of the handbooks' 0.421).
    expect(out[0]).toBeCloseTo(0.2105, 4);
  });

  const phase = reducePhase({
    ...{ emfVolts: 400 * Math.SQRT2, ohms: 0.001, junctions: 1, isOpposite: false },
    law: { kind: 'ideal' },
  });

  test('gives 0.9 of the rms voltage while the current never ceases', () => {
    const out = new Float64Array(2);
    const source = { phases: [phase, phase] as const, hertz: 50, henries: 10 };
    averageChoke(source, 0.9 * 400, out);
    // 2√2/π is 0.9003: over 1 mΩ the rest drives a large current.
    expect(out[0]).toBeCloseTo(((2 * Math.SQRT2) / Math.PI - 0.9) * 400 * 1000, 3);
  });

  test('rises to the crest without load and says so', () => {
    const parameters = { phase1EmfVolts: 500, phase2EmfVolts: 500, phase2Law: 2, phase2Ohms: 150 };
    const run = (ohms: number): Solver => {
      const solver = new Solver(
        circuit(
          element('supply', chokeInputSupply, ['x', 'gnd'], { ...parameters, chokeOhms: 100 }),
          l('L1', 'x', 'b1', 10, 100),
          c('C1', 'b1', 'gnd', 47e-6),
          r('RL', 'b1', 'gnd', ohms),
        ),
      );
      expect(solver.solve()).toMatchObject({ converged: true, failure: null });
      return solver;
    };
    expect(run(10e6).volts('b1')).toBeGreaterThan(490);
    const loaded = run(3000);
    expect(loaded.volts('b1')).toBeLessThan(500 * continuousShare);
    const figures = elementFigures(loaded, 'supply');
    expect(figures).toContainEqual({ what: 'peak inverse voltage 1', unit: 'V', value: 1000 });
    const least = figures.find(({ what }) => what === 'least choke current')!.value;
    const mean = figures.find(({ what }) => what === 'mean current')!.value;
    expect(least).toBeGreaterThan(0);
    // The slow loop ends 1e-9 of the crest away: 0.5 µV over 3 kΩ and the source.
    expect(mean).toBeCloseTo(loaded.volts('b1') / 3000, 8);
  });
});

test('a charge pump gives I = f·C·(2E − V) through ideal rectifiers', () => {
  const curve = reducePhase({
    ...{ emfVolts: 300, ohms: 0.01, junctions: 1, isOpposite: false },
    law: { kind: 'ideal' },
  });
  const out = new Float64Array(2);
  averagePump({ curve, hertz: 50, pumpFarads: 100e-9 }, 80, out);
  // Of the 520 V nothing but a few parts per thousand falls on 0.01 Ω.
  expect(out[0]! / (50 * 100e-9 * (600 - 80))).toBeCloseTo(1, 2);
  expect(out[1]! / (-50 * 100e-9)).toBeCloseTo(1, 2);
});

test('a doubler shares the voltage as its halves are loaded', () => {
  const half = { phase1EmfVolts: 170, phase1Ohms: 20, phase1Law: 1, phase1SaturationAmps: 1e-9 };
  const other = { phase2EmfVolts: 170, phase2Ohms: 20, phase2Law: 1, phase2SaturationAmps: 1e-9 };
  const build = (ohms: number): Solver => {
    const solver = new Solver(
      circuit(
        element('supply', doublerSupply, ['b1', 'm', 'gnd'], { ...half, ...other }),
        c('C1', 'b1', 'm', 47e-6),
        c('C2', 'm', 'gnd', 47e-6),
        r('RL', 'b1', 'gnd', 10e3),
        r('R2', 'm', 'gnd', ohms),
      ),
    );
    expect(solver.solve()).toMatchObject({ converged: true, failure: null });
    return solver;
  };
  const even = build(1e9);
  expect(even.volts('b1') / even.volts('m')).toBeCloseTo(2, 4);
  const uneven = build(5e3);
  expect(uneven.volts('b1') - uneven.volts('m')).toBeGreaterThan(uneven.volts('m') + 2);
  expect(elementFigures(uneven, 'supply').some(({ what }) => what === 'ripple not found')).toBe(false);
});
