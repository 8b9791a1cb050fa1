import { defineDevice } from '../circuit/device.ts';

/**
 * Cold resistance of a heater as a part of its hot one.
 *
 * Tungsten near 1100 K against room temperature; an ohmmeter shows about a sixth to a seventh (common
 * practice, no source).
 */
const coldPart = 0.15;

/**
 * Heater
 *
 * The resistance of a valve's heater at its rated point, or cold. `hot` runs from 0 to 1 between the two:
 * the circuit is solved for one of them, warming up is not simulated.
 */
export const heater = defineDevice({
  name: 'heater',
  pins: ['1', '2'],
  parameters: [
    { name: 'ratedVolts', unit: 'V', initial: 6.3, range: [0.5, 120], meaning: 'Rated voltage' },
    { name: 'ratedAmps', unit: 'A', initial: 0.3, range: [0.01, 20], meaning: 'Rated current' },
    { name: 'hot', unit: '', initial: 1, range: [0, 1], meaning: '1 hot, 0 cold' },
  ],
  linear: true,
  evaluate(unknowns, parameters, out) {
    const siemens = 1 / heaterOhms(parameters);
    out.residuals[0] = (unknowns[0]! - unknowns[1]!) * siemens;
    out.residuals[1] = -out.residuals[0];
    out.derivatives[0] = siemens;
    out.derivatives[1] = -siemens;
    out.derivatives[2] = -siemens;
    out.derivatives[3] = siemens;
  },
  report(unknowns, parameters) {
    const volts = Math.abs(unknowns[0]! - unknowns[1]!);
    return [
      { what: 'heater voltage', unit: 'V', value: volts },
      { what: 'heater current', unit: 'A', value: volts / heaterOhms(parameters) },
    ];
  },
});

function heaterOhms(parameters: Float64Array): number {
  const hotOhms = parameters[0]! / parameters[1]!;
  return hotOhms * (coldPart + (1 - coldPart) * parameters[2]!);
}
