import { defineDevice, type LocalStamp } from '../circuit/device.ts';

/**
 * One anode of a rectifier valve: I = G·V^1.5 for V > 0, and 0 below.
 *
 * The three-halves power law (C. D. Child, Physical Review 32, 1911, p. 492; I. Langmuir, Physical Review 2, 1913,
 * p. 450). Value and slope are continuous at zero. `emission` scales the current: 1 healthy, 0 cold.
 * Valid up to the saturation of the cathode, which the type's peak-current rating keeps far away.
 */
export const rectifierValve = defineDevice({
  name: 'rectifier-valve',
  pins: ['anode', 'cathode'],
  parameters: [
    { name: 'perveance', unit: 'A/V^1.5', initial: 1.7085e-3, range: [1e-5, 0.1], meaning: 'Perveance G' },
    { name: 'emission', unit: '', initial: 1, range: [0, 2], meaning: '1 healthy, 0.5 weak, 0 cold' },
  ],
  evaluate,
  start: [[0, 1, 20]],
  report(unknowns, parameters) {
    const volts = unknowns[0]! - unknowns[1]!;
    const amps = rectifierAmps(volts, parameters[0]! * parameters[1]!);
    return [
      { what: 'anode voltage', unit: 'V', value: volts },
      { what: 'cathode current', unit: 'A', value: amps },
      { what: 'anode dissipation', unit: 'W', value: volts * amps },
    ];
  },
});

/**
 * Current of one anode.
 *
 * @param volts Anode-to-cathode voltage, in volts (V).
 * @param perveance G times emission, in A/V^1.5.
 * @returns In amperes (A).
 */
export function rectifierAmps(volts: number, perveance: number): number {
  return volts > 0 ? perveance * volts * Math.sqrt(volts) : 0;
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const perveance = parameters[0]! * parameters[1]!;
  const volts = unknowns[0]! - unknowns[1]!;
  const slope = volts > 0 ? 1.5 * perveance * Math.sqrt(volts) : 0;
  const amps = rectifierAmps(volts, perveance);
  out.residuals[0] = amps;
  out.residuals[1] = -amps;
  out.derivatives[0] = slope;
  out.derivatives[1] = -slope;
  out.derivatives[2] = -slope;
  out.derivatives[3] = slope;
}
