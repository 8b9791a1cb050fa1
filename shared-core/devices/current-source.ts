import { defineDevice } from '../circuit/device.ts';

/**
 * Current source
 *
 * Ideal: `amps` flow into the `from` pin and out of the `to` pin, whatever the voltage.
 */
export const currentSource = defineDevice({
  name: 'current-source',
  pins: ['from', 'to'],
  parameters: [{ name: 'amps', unit: 'A', initial: 0, range: [-100, 100], meaning: 'Current' }],
  linear: true,
  drives: ([amps]) => (amps === 0 ? 0 : Infinity),
  evaluate(_unknowns, parameters, out) {
    out.residuals[0] = parameters[0]!;
    out.residuals[1] = -parameters[0]!;
  },
});
