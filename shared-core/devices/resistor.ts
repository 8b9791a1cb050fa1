import { defineDevice } from '../circuit/device.ts';

/**
 * Resistor
 *
 * Ohm's law, `I = V / R`. Zero ohms is not allowed: a short is 0.1 Ω, so that 0.01 Ω beside 10 GΩ does
 * not meet the rounding floor of the solver.
 */
export const resistor = defineDevice({
  name: 'resistor',
  pins: ['1', '2'],
  parameters: [{ name: 'ohms', unit: 'Ω', initial: 1000, range: [1e-3, 1e13], meaning: 'Resistance' }],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const siemens = 1 / parameters[0]!;
    const amps = (unknowns[0]! - unknowns[1]!) * siemens;
    out.residuals[0] = amps;
    out.residuals[1] = -amps;
    out.derivatives[0] = siemens;
    out.derivatives[1] = -siemens;
    out.derivatives[2] = -siemens;
    out.derivatives[3] = siemens;
  },
  report(unknowns, parameters) {
    const volts = unknowns[0]! - unknowns[1]!;
    return [
      { what: 'dissipation', unit: 'W', value: (volts * volts) / parameters[0]! },
      { what: 'voltage', unit: 'V', value: Math.abs(volts) },
    ];
  },
});
