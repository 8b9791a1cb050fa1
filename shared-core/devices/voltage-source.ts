import { defineDevice } from '../circuit/device.ts';

/**
 * Voltage source
 *
 * Ideal: `plus − minus = volts` whatever the current. The branch current flows into the plus pin, so a
 * source that delivers shows a negative current.
 */
export const voltageSource = defineDevice({
  name: 'voltage-source',
  pins: ['plus', 'minus'],
  branches: ['current'],
  parameters: [{ name: 'volts', unit: 'V', initial: 0, range: [-5000, 5000], meaning: 'Voltage' }],
  linear: true,
  drives: ([volts]) => volts!,
  evaluate(unknowns, parameters, out) {
    const amps = unknowns[2]!;
    out.residuals[0] = amps;
    out.residuals[1] = -amps;
    out.residuals[2] = unknowns[0]! - unknowns[1]! - parameters[0]!;
    out.derivatives[2] = 1;
    out.derivatives[5] = -1;
    out.derivatives[6] = 1;
    out.derivatives[7] = -1;
  },
});
