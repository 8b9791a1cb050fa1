import { describe, expect, it } from 'vitest';
import { devices } from '../../../shared-core/devices/index.ts';
import { checkDevice } from '../../helpers/check-device.ts';

describe('every device', () => {
  it.each(devices)('$name keeps the device contract', (device) => {
    // A device with many pins compares hundreds of derivatives at each point.
    checkDevice(device, device.pins.length > 6 ? { runs: 60 } : {});
  });

  it.each(devices)('$name states parameters whose initial value lies in the allowed range', (device) => {
    for (const { name, initial, range, meaning } of device.parameters) {
      expect(initial, name).toBeGreaterThanOrEqual(range[0]);
      expect(initial, name).toBeLessThanOrEqual(range[1]);
      expect(meaning).not.toBe('');
    }
  });

  it('has one name each', () => {
    expect(new Set(devices.map((device) => device.name)).size).toBe(devices.length);
  });
});
