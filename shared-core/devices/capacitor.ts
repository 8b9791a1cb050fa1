import { defineDevice } from '../circuit/device.ts';

/**
 * Capacitor
 *
 * At rest an open circuit but for its leakage; it stores `farads × volts` for small signal and drain.
 */
export const capacitor = defineDevice({
  name: 'capacitor',
  pins: ['plus', 'minus'],
  parameters: [
    { name: 'farads', unit: 'F', initial: 1e-6, range: [1e-13, 1], meaning: 'Capacitance' },
    { name: 'leakageSiemens', unit: 'S', initial: 0, range: [0, 100], meaning: 'Leakage conductance' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const siemens = parameters[1]!;
    out.residuals[0] = (unknowns[0]! - unknowns[1]!) * siemens;
    out.residuals[1] = -out.residuals[0];
    out.derivatives[0] = siemens;
    out.derivatives[1] = -siemens;
    out.derivatives[2] = -siemens;
    out.derivatives[3] = siemens;
  },
  storage: (parameters) => [{ kind: 'charge', plus: 0, minus: 1, farads: parameters[0]! }],
  report(unknowns) {
    return [{ what: 'voltage', unit: 'V', value: unknowns[0]! - unknowns[1]! }];
  },
});
