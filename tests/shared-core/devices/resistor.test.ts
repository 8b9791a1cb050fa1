import { describe, it } from 'vitest';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { resistor } from '../../../shared-core/devices/resistor.ts';
import { voltageSource } from '../../../shared-core/devices/voltage-source.ts';
import { checkDevice } from '../../helpers/check-device.ts';

describe('resistor and sources', () => {
  it.each([resistor, voltageSource, currentSource])('$name keeps the device contract', (device) => {
    checkDevice(device);
  });
});
