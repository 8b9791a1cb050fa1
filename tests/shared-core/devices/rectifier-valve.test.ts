import { describe, expect, it } from 'vitest';
import { rectifierAmps, rectifierValve } from '../../../shared-core/devices/rectifier-valve.ts';
import { checkDevice } from '../../helpers/check-device.ts';

describe('rectifier valve', () => {
  it('keeps the device contract over its whole range', () => {
    checkDevice(rectifierValve);
  });

  it('keeps the device contract around zero volts', () => {
    checkDevice(rectifierValve, { volts: [-0.5, 0.5] });
  });

  it('passes eight times the current at four times the voltage', () => {
    expect(rectifierAmps(80, 1e-3) / rectifierAmps(20, 1e-3)).toBeCloseTo(8, 12);
  });

  it('blocks in reverse and when cold', () => {
    const out = { residuals: new Float64Array(2), derivatives: new Float64Array(4) };
    rectifierValve.evaluate(Float64Array.from([-900, 300]), Float64Array.from([1e-3, 1]), out);
    expect(out.residuals[0]).toBe(0);
    rectifierValve.evaluate(Float64Array.from([320, 300]), Float64Array.from([1e-3, 0]), out);
    expect(out.residuals[0]).toBe(0);
  });
});
