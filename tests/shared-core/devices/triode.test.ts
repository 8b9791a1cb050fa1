import { describe, expect, it } from 'vitest';
import type { LocalStamp } from '../../../shared-core/circuit/device.ts';
import { triode } from '../../../shared-core/devices/triode.ts';
import { checkDevice } from '../../helpers/check-device.ts';

function stamp(
  volts: readonly [number, number, number],
  changes: Readonly<Record<string, number>> = {},
): LocalStamp {
  const out = { residuals: new Float64Array(3), derivatives: new Float64Array(9) };
  const parameters = Float64Array.from(triode.parameters, ({ name, initial }) => changes[name] ?? initial);
  triode.evaluate(Float64Array.from(volts), parameters, out);
  return out;
}

describe('triode', () => {
  it('keeps the device contract over its whole range', () => {
    checkDevice(triode);
  });

  it('keeps the device contract near cutoff and at positive grid', () => {
    checkDevice(triode, { volts: [-3, 3] });
  });

  it('follows the formula worked by hand', () => {
    // mu 20, KVB 0, far above cutoff: E1 = Va·(1/mu + Vg/Va) = 100/20 − 2 = 3 V; Ia = 2·3^1.5/1000.
    const { residuals } = stamp([100, -2, 0], { mu: 20, ex: 1.5, kg1: 1000, kp: 5000, kvb: 0.5, vct: 0 });
    // KVB 0.5 V² moves the root by 2.5e-5; 1e-4 covers it.
    expect(residuals[0]! / ((2 * 3 ** 1.5) / 1000)).toBeCloseTo(1, 4);
  });

  it('depends on voltages between its pins only', () => {
    expect([...stamp([350, 98.5, 100]).residuals]).toEqual([...stamp([250, -1.5, 0]).residuals]);
  });

  it('passes nothing with its anode at or below the cathode', () => {
    expect(stamp([0, -1, 0]).residuals[0]).toBe(0);
    expect(stamp([-200, -1, 0]).residuals[0]).toBe(0);
  });

  it('draws grid current as the resistance above the onset and next to none at bias', () => {
    const above = stamp([100, 10, 0]).residuals[1]! - stamp([100, 9, 0]).residuals[1]!;
    expect(above).toBeCloseTo(1 / 2000, 12);
    expect(stamp([100, -1.5, 0]).residuals[1]).toBeLessThan(1e-11);
  });

  it('sends the gas current out of the grid and keeps the sum of currents zero', () => {
    const { residuals } = stamp([250, -2, 0], { gasRatio: 1e-3 });
    expect(residuals[1]! / residuals[0]!).toBeCloseTo(-1e-3, 9);
    expect(residuals[0]! + residuals[1]! + residuals[2]!).toBe(0);
  });

  it('scales every current with emission', () => {
    const healthy = stamp([250, 1, 0]).residuals;
    const weak = stamp([250, 1, 0], { emission: 0.5 }).residuals;
    expect([...weak]).toEqual([...healthy].map((amps) => amps / 2));
    expect([...stamp([250, 1, 0], { emission: 0 }).residuals].every((amps) => amps === 0)).toBe(true);
  });

  it('reports volts times amperes as dissipation', () => {
    const parameters = Float64Array.from(triode.parameters, ({ initial }) => initial);
    const figures = triode.report(Float64Array.from([251.5, 0, 1.5]), parameters);
    const figure = (what: string): number => figures.find((each) => each.what === what)!.value;
    expect(figure('anode voltage')).toBe(250);
    expect(figure('anode dissipation')).toBeCloseTo(250 * figure('anode current'), 12);
  });
});
