import { defineDevice } from '../circuit/device.ts';
import { junctionWithOhms, limitJunction, thermalVolts } from './junction.ts';

/**
 * Light-emitting diode
 *
 * A junction in series with a resistance, fixed by the one point that every data sheet states: the forward
 * voltage at a current. Used as an indicator, or as a quiet reference of 1.6 to 2 V under a cathode. No
 * breakdown: more than about 5 V in reverse destroys it, and the report says how much there is.
 */
export const led = defineDevice({
  name: 'led',
  pins: ['anode', 'cathode'],
  parameters: [
    { name: 'forwardVolts', unit: 'V', initial: 1.9, range: [1, 5], meaning: 'Forward voltage' },
    { name: 'forwardAmps', unit: 'A', initial: 0.01, range: [1e-4, 1], meaning: 'Current it is stated at' },
    { name: 'emissionFactor', unit: '', initial: 2, range: [1, 5], meaning: 'N' },
    { name: 'seriesOhms', unit: 'Ω', initial: 5, range: [0.1, 50], meaning: 'RS' },
  ],
  evaluate(unknowns, parameters, out) {
    const [amps, slope] = ledLaw(unknowns[0]! - unknowns[1]!, parameters);
    out.residuals[0] = amps;
    out.residuals[1] = -amps;
    out.derivatives[0] = slope;
    out.derivatives[1] = -slope;
    out.derivatives[2] = -slope;
    out.derivatives[3] = slope;
  },
  start: [[0, 1, 1.6]],
  limitStep(last, next, parameters) {
    const asked = next[0]! - next[1]!;
    const spread = parameters[2]! * thermalVolts;
    const allowed = limitJunction(
      last[0]! - last[1]!,
      asked,
      spread,
      saturationAmps(parameters),
      parameters[3]!,
    );
    if (allowed === asked) return false;
    next[0] = next[1]! + allowed;
    return true;
  },
  report(unknowns, parameters) {
    const volts = unknowns[0]! - unknowns[1]!;
    const [amps] = ledLaw(volts, parameters);
    return [
      { what: 'current', unit: 'A', value: amps },
      { what: 'reverse voltage', unit: 'V', value: Math.max(0, -volts) },
      { what: 'dissipation', unit: 'W', value: volts * amps },
    ];
  },
});

/** IS of the junction that gives the stated current at the stated voltage, in amperes (A). */
function saturationAmps(parameters: Float64Array): number {
  const [volts, amps, emission, ohms] = parameters as unknown as readonly number[];
  return amps! * Math.exp(-Math.max(0.5, volts! - ohms! * amps!) / (emission! * thermalVolts));
}

function ledLaw(volts: number, parameters: Float64Array): readonly [number, number] {
  const scale = saturationAmps(parameters);
  const spread = parameters[2]! * thermalVolts;
  const [amps, slope] = junctionWithOhms(volts + scale * parameters[3]!, scale, spread, parameters[3]!);
  return [amps - scale, slope];
}
