import { describe, expect, it } from 'vitest';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { gasStabiliser } from '../../../shared-core/devices/gas-stabiliser.ts';
import { checkDevice } from '../../helpers/check-device.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';

/** An OA2 behind a resistor, with a load across it. */
function solve(supplyVolts: number, seriesOhms: number, loadOhms = 1e9): { volts: number; amps: number } {
  const solver = new Solver(
    circuit(
      v('VB', 'b', supplyVolts),
      r('RS', 'b', 'a', seriesOhms),
      r('RL', 'a', 'gnd', loadOhms),
      element('V1', gasStabiliser, ['a', 'gnd']),
    ),
  );
  const outcome = solver.solve();
  expect(outcome.converged).toBe(true);
  return { volts: solver.volts('a'), amps: solver.evaluateElement('V1').stamp.residuals[0]! };
}

describe('gas stabiliser', () => {
  it('keeps the device contract, dark and glowing', () => {
    checkDevice(gasStabiliser);
    checkDevice(gasStabiliser, { volts: [100, 200], parameters: { lit: [1, 1] } });
  });

  it('stays dark below its striking voltage and draws next to nothing', () => {
    const { volts, amps } = solve(184, 10e3);
    expect(amps).toBeLessThan(1e-7);
    // 10 kΩ against 10 GΩ of leakage and the 1 GΩ of the load.
    expect(volts).toBeCloseTo(184, 2);
  });

  it('strikes and holds: 250 V through 5.7 kΩ leaves 150 V at 17.5 mA', () => {
    // Backwards: (250 − 150) V / 17.5 mA = 5714.3 Ω, in the middle of its range, where its voltage is exact.
    const { volts, amps } = solve(250, 100 / 17.5e-3);
    expect(volts).toBeCloseTo(150, 3);
    expect(amps).toBeCloseTo(17.5e-3, 6);
  });

  it('rises by its regulation, 2 V from 5 to 30 mA', () => {
    // Backwards from the law: 149 V at 5 mA, 151 V at 30 mA.
    expect(solve(149 + 5e-3 * 10e3, 10e3).volts).toBeCloseTo(149, 3);
    expect(solve(151 + 30e-3 * 10e3, 10e3).volts).toBeCloseTo(151, 3);
  });

  it('does not strike where the load pulls the supply below the striking voltage', () => {
    // 250 V · 20/(10 + 20) = 166.7 V: enough to hold 150 V, not to strike.
    const { volts, amps } = solve(250, 10e3, 20e3);
    expect(volts).toBeCloseTo((250 * 20) / 30, 2);
    expect(amps).toBeLessThan(1e-7);
  });
});
