import { defineDevice } from '../circuit/device.ts';

/** Resistance left at each end of the track, in ohms (Ω): a short would meet the solver's rounding floor. */
const endOhms = 0.1;

/**
 * Part of an audio track's resistance at mid travel: the common "10 % at half" taper (common practice,
 * no source). The taper is exponential, as straight on a decibel scale as a track can be that ends at zero.
 */
const logarithmicAtHalf = 0.1;
const base = (1 / logarithmicAtHalf - 1) ** 2;

/**
 * Potentiometer
 *
 * Two resistances between the anticlockwise end, the wiper and the clockwise end. `position` runs from 0
 * (anticlockwise) to 1; `taper` 0 is linear, 1 logarithmic.
 */
export const potentiometer = defineDevice({
  name: 'potentiometer',
  pins: ['ccw', 'wiper', 'cw'],
  parameters: [
    { name: 'ohms', unit: 'Ω', initial: 100e3, range: [1, 1e8], meaning: 'Resistance of the whole track' },
    { name: 'position', unit: '', initial: 0.5, range: [0, 1], meaning: 'Travel, 0 anticlockwise' },
    { name: 'taper', unit: '', initial: 0, range: [0, 1], meaning: '0 linear, 1 logarithmic' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const part = trackPart(parameters[1]!, parameters[2]! >= 0.5 ? 'logarithmic' : 'linear');
    const lower = 1 / Math.max(parameters[0]! * part, endOhms);
    const upper = 1 / Math.max(parameters[0]! * (1 - part), endOhms);
    const [ccw, wiper, cw] = [unknowns[0]!, unknowns[1]!, unknowns[2]!];
    out.residuals[0] = (ccw - wiper) * lower;
    out.residuals[2] = (cw - wiper) * upper;
    out.residuals[1] = -out.residuals[0] - out.residuals[2];
    out.derivatives[0] = lower;
    out.derivatives[1] = -lower;
    out.derivatives[3] = -lower;
    out.derivatives[4] = lower + upper;
    out.derivatives[5] = -upper;
    out.derivatives[7] = -upper;
    out.derivatives[8] = upper;
  },
});

/** Part of the track's resistance between the anticlockwise end and the wiper, 0 to 1. */
export function trackPart(position: number, taper: 'linear' | 'logarithmic'): number {
  return taper === 'linear' ? position : (base ** position - 1) / (base - 1);
}
