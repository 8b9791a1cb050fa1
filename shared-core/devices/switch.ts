import { defineDevice } from '../circuit/device.ts';

/** Conductance of open contacts, in siemens (S): the solver's own gmin, so open means open. */
export const openSiemens = 1e-12;

/**
 * Switch
 *
 * One pole: `closedOhms` when closed, 1e-12 S when open.
 */
export const switchContact = defineDevice({
  name: 'switch',
  pins: ['a', 'b'],
  parameters: [
    { name: 'closed', unit: '', initial: 1, range: [0, 1], meaning: '1 closed, 0 open' },
    { name: 'closedOhms', unit: 'Ω', initial: 0.05, range: [0.01, 1e6], meaning: 'Contact resistance' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const siemens = parameters[0]! >= 0.5 ? 1 / parameters[1]! : openSiemens;
    out.residuals[0] = (unknowns[0]! - unknowns[1]!) * siemens;
    out.residuals[1] = -out.residuals[0];
    out.derivatives[0] = siemens;
    out.derivatives[1] = -siemens;
    out.derivatives[2] = -siemens;
    out.derivatives[3] = siemens;
  },
});
