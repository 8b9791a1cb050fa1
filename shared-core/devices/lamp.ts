import { defineDevice, type LocalStamp } from '../circuit/device.ts';

/** Tungsten: I ∝ V^0.55 near the rated point, hence R ∝ V^0.45 (common practice, no source). */
const resistanceExponent = 0.45;

/** Cold resistance as a part of the rated one: 1/10 to 1/15 (common practice, no source). */
const coldPart = 1 / 12;

/**
 * Lamp
 *
 * A tungsten filament lamp as limiter, volts and amperes rms:
 * `R² = Rcold² + (Rhot² − Rcold²)·(V/Vrated)^0.9`, which is Rhot at the rated voltage, Rcold at none, and
 * gives I ∝ V^0.55 in between. The filament is taken as settled.
 */
export const lamp = defineDevice({
  name: 'lamp',
  pins: ['1', '2'],
  parameters: [
    { name: 'ratedVolts', unit: 'V', initial: 230, range: [1, 500], meaning: 'Rated voltage' },
    { name: 'ratedWatts', unit: 'W', initial: 60, range: [0.1, 2000], meaning: 'Rated power' },
  ],
  evaluate,
  report(unknowns, parameters) {
    const volts = Math.abs(unknowns[0]! - unknowns[1]!);
    const [amps] = lampLaw(volts, parameters);
    return [
      { what: 'voltage', unit: 'V', value: volts },
      { what: 'current', unit: 'A', value: amps },
      { what: 'part of rated power', unit: '', value: (volts * amps) / parameters[1]! },
    ];
  },
});

/**
 * Current of a settled filament lamp, in amperes rms (A).
 *
 * @param volts Across the lamp, in volts rms (V).
 */
export function lampAmps(volts: number, ratedVolts: number, ratedWatts: number): number {
  return lampLaw(volts, Float64Array.of(ratedVolts, ratedWatts))[0];
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const [amps, slope] = lampLaw(unknowns[0]! - unknowns[1]!, parameters);
  out.residuals[0] = amps;
  out.residuals[1] = -amps;
  out.derivatives[0] = slope;
  out.derivatives[1] = -slope;
  out.derivatives[2] = -slope;
  out.derivatives[3] = slope;
}

/** Current, in amperes (A), and its slope, in siemens (S). */
function lampLaw(volts: number, parameters: Float64Array): readonly [number, number] {
  const hotOhms = (parameters[0]! * parameters[0]!) / parameters[1]!;
  const coldOhms = hotOhms * coldPart;
  const spread = hotOhms * hotOhms - coldOhms * coldOhms;
  const part = spread * (Math.abs(volts) / parameters[0]!) ** (2 * resistanceExponent);
  const square = coldOhms * coldOhms + part;
  const ohms = Math.sqrt(square);
  // dI/dV = 1/R − V·R'/R², with V·R' = 0.45·part/R.
  return [volts / ohms, (1 - (resistanceExponent * part) / square) / ohms];
}
