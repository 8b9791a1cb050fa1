import { defineDevice, type LocalStamp } from '../circuit/device.ts';
import { logistic, softplus } from './valve-laws.ts';

/** Width of the rounded corner where a glow dies, in volts (V): far below the spread of one valve to the next. */
const cornerVolts = 0.03;

/** Leakage of a dark valve, in siemens (S): glass and gas, 10 GΩ. */
const darkSiemens = 1e-10;

/** States of `lit`. */
const dark = 0;
const glowing = 1;
/** It struck, but what is around it cannot keep it alight: it would flash. It stays dark for this solution. */
const flashing = -1;

/**
 * Gas-filled voltage stabiliser (cold-cathode glow discharge).
 *
 * Dark until its voltage reaches the striking voltage, then a nearly constant voltage: V = V0 + S·I, where V0
 * and the slope resistance S are the makers' regulation over 5 to 30 mA. The corner at V0 is rounded:
 * I = (w/S)·ln(1 + exp((V − V0)/w)).
 *
 * Striking is a decision, not a law: `refine` looks at the solved voltage and lights the valve, or puts it out when
 * nothing flows. It is modelled with the largest striking voltage that the maker allows, so that a supply that
 * strikes here strikes every valve. Valid from 5 to 30 mA; the jump below and the rise above are not modelled,
 * nor is conduction with the polarity reversed.
 */
export const gasStabiliser = defineDevice({
  name: 'gas-stabiliser',
  pins: ['anode', 'cathode'],
  parameters: [
    {
      name: 'regulatedVolts',
      unit: 'V',
      initial: 150,
      range: [50, 500],
      meaning: 'Voltage held at regulatedAmps',
    },
    {
      name: 'regulatedAmps',
      unit: 'A',
      initial: 17.5e-3,
      range: [1e-3, 0.1],
      meaning: 'Current at which it holds that voltage',
    },
    { name: 'slopeOhms', unit: 'Ω', initial: 80, range: [1, 2000], meaning: 'Slope resistance' },
    {
      name: 'strikingVolts',
      unit: 'V',
      initial: 185,
      range: [55, 600],
      meaning: 'Voltage at which it strikes',
    },
    { name: 'lit', unit: '', initial: dark, range: [-1, 1], meaning: '1 glowing, 0 dark, −1 flashing' },
  ],
  evaluate,
  start: [[0, 1, 0]],
  refine(unknowns, parameters) {
    const volts = unknowns[0]! - unknowns[1]!;
    const lit = parameters[4]!;
    if (lit === dark && volts >= parameters[3]!) {
      parameters[4] = glowing;
      return 1;
    }
    // Half a corner below V0 less than a fifth of a milliampere is left: no glow lives on that.
    if (lit === glowing && volts < onsetVolts(parameters) - cornerVolts / 2) {
      parameters[4] = flashing;
      return 1;
    }
    return 0;
  },
  report(unknowns, parameters) {
    const out = { residuals: new Float64Array(2), derivatives: new Float64Array(4) };
    evaluate(unknowns, parameters, out);
    const volts = unknowns[0]! - unknowns[1]!;
    return [
      { what: 'anode voltage', unit: 'V', value: volts },
      { what: 'anode current', unit: 'A', value: out.residuals[0]! },
      { what: 'anode dissipation', unit: 'W', value: volts * out.residuals[0]! },
      { what: 'glow', unit: '', value: parameters[4]! },
    ];
  },
});

/** Voltage to which the straight part of the law falls back at no current, in volts (V). */
function onsetVolts(parameters: Float64Array): number {
  return parameters[0]! - parameters[1]! * parameters[2]!;
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const volts = unknowns[0]! - unknowns[1]!;
  let amps = darkSiemens * volts;
  let slope = darkSiemens;
  if (parameters[4]! > 0.5) {
    const x = (volts - onsetVolts(parameters)) / cornerVolts;
    amps += (cornerVolts / parameters[2]!) * softplus(x);
    slope += logistic(x) / parameters[2]!;
  }
  out.residuals[0] = amps;
  out.residuals[1] = -amps;
  out.derivatives[0] = slope;
  out.derivatives[1] = -slope;
  out.derivatives[2] = -slope;
  out.derivatives[3] = slope;
}
