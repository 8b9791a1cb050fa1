import { defineDevice } from '../circuit/device.ts';
import { openSiemens } from './switch.ts';

/**
 * Fuse
 *
 * Its cold resistance, or 1e-12 S when blown or missing. It does not blow by itself: the report gives the
 * current, and whoever asks compares it with the rating.
 */
export const fuse = defineDevice({
  name: 'fuse',
  pins: ['a', 'b'],
  parameters: [
    { name: 'intact', unit: '', initial: 1, range: [0, 1], meaning: '1 intact, 0 blown or missing' },
    { name: 'ohms', unit: 'Ω', initial: 0.1, range: [0.01, 1e4], meaning: 'Cold resistance' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const siemens = fuseSiemens(parameters);
    out.residuals[0] = (unknowns[0]! - unknowns[1]!) * siemens;
    out.residuals[1] = -out.residuals[0];
    out.derivatives[0] = siemens;
    out.derivatives[1] = -siemens;
    out.derivatives[2] = -siemens;
    out.derivatives[3] = siemens;
  },
  report(unknowns, parameters) {
    const amps = (unknowns[0]! - unknowns[1]!) * fuseSiemens(parameters);
    return [{ what: 'current', unit: 'A', value: Math.abs(amps) }];
  },
});

function fuseSiemens(parameters: Float64Array): number {
  return parameters[0]! >= 0.5 ? 1 / parameters[1]! : openSiemens;
}
