import { defineDevice } from '../circuit/device.ts';

/**
 * Inductor
 *
 * A choke or a winding: at rest its copper resistance, `v = ohms × i`, with flux `henries × i` for small
 * signal and drain. The branch current flows into pin 1. Zero ohms is an ideal short.
 */
export const inductor = defineDevice({
  name: 'inductor',
  pins: ['1', '2'],
  branches: ['current'],
  parameters: [
    { name: 'henries', unit: 'H', initial: 10, range: [0, 1e4], meaning: 'Inductance' },
    { name: 'ohms', unit: 'Ω', initial: 100, range: [0, 1e9], meaning: 'Copper resistance' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const amps = unknowns[2]!;
    out.residuals[0] = amps;
    out.residuals[1] = -amps;
    out.residuals[2] = unknowns[0]! - unknowns[1]! - parameters[1]! * amps;
    out.derivatives[2] = 1;
    out.derivatives[5] = -1;
    out.derivatives[6] = 1;
    out.derivatives[7] = -1;
    out.derivatives[8] = -parameters[1]!;
  },
  storage: (parameters) => [{ kind: 'flux', branch: 0, henries: parameters[0]! }],
  report(unknowns, parameters) {
    const amps = unknowns[2]!;
    return [
      { what: 'current', unit: 'A', value: Math.abs(amps) },
      { what: 'dissipation', unit: 'W', value: amps * amps * parameters[1]! },
    ];
  },
});
