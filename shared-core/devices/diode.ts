import { defineDevice, type LocalStamp } from '../circuit/device.ts';
import { junctionWithOhms, limitJunction, thermalVolts } from './junction.ts';

/** A reverse voltage no diode of the trade reaches: "no breakdown". */
const noBreakdown = 1e5;

/**
 * Diode
 *
 * Shockley's junction in series with a resistance, `I = IS·(exp((V − RS·I)/(N·VT)) − 1)`, solved for I in
 * closed form with the Wright omega function, so no internal net is needed and nothing overflows: far
 * above the knee the current rises as V/RS. Breakdown is a second junction the other way round, in series
 * with `breakdownVolts`; it makes the same device a Zener diode.
 *
 * W. Shockley, Bell System Technical Journal 28, 1949; T. C. Banwell and A. Jayakumar, Electronics
 * Letters 36, 2000. At 27 °C.
 */
export const diode = defineDevice({
  name: 'diode',
  pins: ['anode', 'cathode'],
  parameters: [
    { name: 'saturationAmps', unit: 'A', initial: 5e-9, range: [1e-16, 1e-3], meaning: 'IS' },
    { name: 'emissionFactor', unit: '', initial: 1.8, range: [0.8, 4], meaning: 'N' },
    { name: 'seriesOhms', unit: 'Ω', initial: 0.05, range: [1e-3, 1e4], meaning: 'RS' },
    {
      name: 'breakdownVolts',
      unit: 'V',
      initial: noBreakdown,
      range: [1, noBreakdown],
      meaning: 'Reverse voltage at breakdown',
    },
    { name: 'breakdownOhms', unit: 'Ω', initial: 10, range: [1e-2, 1e5], meaning: 'Resistance in breakdown' },
    {
      name: 'breakdownAmps',
      unit: 'A',
      initial: 1e-4,
      range: [1e-12, 1],
      meaning: 'Reverse current at the breakdown voltage, apart from IS',
    },
  ],
  evaluate,
  // A Zener diode is there to stand in reverse.
  start: (parameters) => [[0, 1, parameters[3]! < noBreakdown ? -0.9 * parameters[3]! : 0.6]],
  limitStep(last, next, parameters) {
    const spread = parameters[1]! * thermalVolts;
    const breakdown = parameters[3]!;
    const from = last[0]! - last[1]!;
    const asked = next[0]! - next[1]!;
    let allowed = limitJunction(from, asked, spread, parameters[0]!, parameters[2]!);
    if (asked < -breakdown) {
      // The same limit, mirrored at the breakdown voltage.
      const [past, askedPast] = [-breakdown - from, -breakdown - asked];
      allowed = -breakdown - limitJunction(past, askedPast, spread, parameters[5]!, parameters[4]!);
    }
    if (allowed === asked) return false;
    next[0] = next[1]! + allowed;
    return true;
  },
  report(unknowns, parameters) {
    const volts = unknowns[0]! - unknowns[1]!;
    const [amps] = diodeLaw(volts, parameters);
    return [
      { what: 'current', unit: 'A', value: amps },
      { what: 'reverse voltage', unit: 'V', value: Math.max(0, -volts) },
      { what: 'dissipation', unit: 'W', value: volts * amps },
    ];
  },
});

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const [amps, slope] = diodeLaw(unknowns[0]! - unknowns[1]!, parameters);
  out.residuals[0] = amps;
  out.residuals[1] = -amps;
  out.derivatives[0] = slope;
  out.derivatives[1] = -slope;
  out.derivatives[2] = -slope;
  out.derivatives[3] = slope;
}

/** Current, in amperes (A), and slope, in siemens (S). */
function diodeLaw(volts: number, parameters: Float64Array): readonly [number, number] {
  const spread = parameters[1]! * thermalVolts;
  const saturationAmps = parameters[0]!;
  const drive = volts + saturationAmps * parameters[2]!;
  const [forward, forwardSlope] = junctionWithOhms(drive, saturationAmps, spread, parameters[2]!);
  if (parameters[3]! >= noBreakdown) return [forward - saturationAmps, forwardSlope];
  const past = -volts - parameters[3]!;
  const [reverse, reverseSlope] = junctionWithOhms(past, parameters[5]!, spread, parameters[4]!);
  return [forward - saturationAmps - reverse, forwardSlope + reverseSlope];
}
