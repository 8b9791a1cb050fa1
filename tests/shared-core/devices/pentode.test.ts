import { describe, expect, it } from 'vitest';
import type { LocalStamp } from '../../../shared-core/circuit/device.ts';
import { pentode } from '../../../shared-core/devices/pentode.ts';
import { checkDevice } from '../../helpers/check-device.ts';

function stamp(
  volts: readonly [number, number, number, number],
  changes: Readonly<Record<string, number>> = {},
): LocalStamp {
  const out = { residuals: new Float64Array(4), derivatives: new Float64Array(16) };
  const parameters = Float64Array.from(pentode.parameters, ({ name, initial }) => changes[name] ?? initial);
  pentode.evaluate(Float64Array.from(volts), parameters, out);
  return out;
}

describe('pentode', () => {
  it('keeps the device contract over its whole range', () => {
    checkDevice(pentode);
  });

  it('keeps the device contract in the corner where anode and screen meet zero', () => {
    checkDevice(pentode, { volts: [-2, 2] });
  });

  it('follows the formula worked by hand', () => {
    // Far above cutoff: E1 = Vg2/mu + Vg1 = 200/10 − 11 = 9 V; 9^1.5 = 27; arctan(500/0.5) is taken as it is.
    const { residuals } = stamp([500, 200, -11, 0], {
      mu: 10,
      ex: 1.5,
      kg1: 1000,
      kp: 5000,
      kvb: 0.5,
      kg2: 9000,
    });
    expect(residuals[0]! / ((2 * 27 * Math.atan(1000)) / 1000)).toBeCloseTo(1, 9);
    expect(residuals[1]! / ((2 * 27) / 9000)).toBeCloseTo(1, 9);
  });

  it('passes no anode current at or below zero volts and no screen current at a negative screen', () => {
    expect(stamp([0, 250, -7, 0]).residuals[0]).toBe(0);
    expect(stamp([-50, 250, -7, 0]).residuals[0]).toBe(0);
    expect(stamp([250, -10, 2, 0]).residuals[1]).toBe(0);
  });

  it('makes a triode when screen and anode share a net', () => {
    // mu of a triode-connected pentode is near its g1–g2 factor: KG-weighted screen and anode share one E1.
    const { derivatives } = stamp([250, 250, -12, 0]);
    const byGrid = derivatives[2]! + derivatives[6]!;
    const byAnode = derivatives[0]! + derivatives[1]! + derivatives[4]! + derivatives[5]!;
    const mu = byGrid / byAnode;
    expect(mu).toBeGreaterThan(16);
    expect(mu).toBeLessThan(20);
  });

  it('scales every current with emission', () => {
    const healthy = stamp([250, 250, 1, 0]).residuals;
    const weak = stamp([250, 250, 1, 0], { emission: 0.5 }).residuals;
    expect([...weak]).toEqual([...healthy].map((amps) => amps / 2));
  });

  it('reports anode and screen dissipation and their common cathode current', () => {
    const parameters = Float64Array.from(pentode.parameters, ({ initial }) => initial);
    const figures = pentode.report(Float64Array.from([257.3, 247.3, 0, 7.3]), parameters);
    const figure = (what: string): number => figures.find((each) => each.what === what)!.value;
    expect(figure('anode dissipation')).toBeCloseTo(250 * figure('anode current'), 12);
    expect(figure('screen dissipation')).toBeCloseTo(240 * figure('screen current'), 12);
    // The grid takes the rest, here far below a nanoampere.
    expect(figure('cathode current')).toBeCloseTo(figure('anode current') + figure('screen current'), 9);
  });
});
