import fc from 'fast-check';
import { expect } from 'vitest';
import type { Device, LocalStamp } from '../../shared-core/circuit/device.ts';

export interface CheckDeviceOptions {
  /** Range of each pin's voltage, in volts (V). */
  readonly volts?: readonly [number, number];
  /** Range of each branch's current, in amperes (A). */
  readonly amps?: readonly [number, number];
  /** Ranges of parameters that are narrower than what the device allows. */
  readonly parameters?: Readonly<Record<string, readonly [number, number]>>;
  /** Difference quotient against derivative, relative to the largest of the row: 1e-4 suits a central difference. */
  readonly rel?: number;
  readonly runs?: number;
}

/**
 * What every device must keep: derivatives that match finite differences, pin currents that sum to
 * zero, and finite results over the allowed range of its parameters.
 *
 * @param device The device under test.
 * @param options Narrower ranges where the device is only meant for those.
 */
export function checkDevice(device: Device, options: CheckDeviceOptions = {}): void {
  const pins = device.pins.length;
  const count = pins + (device.branches?.length ?? 0);
  const volts = options.volts ?? [-600, 600];
  const amps = options.amps ?? [-1, 1];
  const number = ([min, max]: readonly [number, number]) => fc.double({ min, max, noNaN: true });
  const point = fc.tuple(...Array.from({ length: count }, (_, local) => number(local < pins ? volts : amps)));
  const parameters = fc.tuple(
    ...device.parameters.map(({ name, range, initial }) =>
      fc.oneof(fc.constant(initial), parameterValue(options.parameters?.[name] ?? range)),
    ),
  );
  fc.assert(
    fc.property(point, parameters, (unknowns, values) => {
      checkPoint(device, Float64Array.from(unknowns), Float64Array.from(values), options.rel ?? 1e-4);
    }),
    { numRuns: options.runs ?? 300 },
  );
}

/** Values over the whole range; over many decades they are drawn by their logarithm. */
function parameterValue([min, max]: readonly [number, number]): fc.Arbitrary<number> {
  if (min > 0 && max / min > 100) {
    const exponent = fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true });
    return exponent.map((each) => Math.min(max, Math.max(min, Math.exp(each))));
  }
  return fc.double({ min, max, noNaN: true });
}

function checkPoint(device: Device, unknowns: Float64Array, parameters: Float64Array, rel: number): void {
  const count = unknowns.length;
  const pins = device.pins.length;
  const at = evaluate(device, unknowns, parameters);
  for (const value of [...at.residuals, ...at.derivatives]) {
    expect(
      Number.isFinite(value),
      `${device.name} is finite at ${[...unknowns]} with ${[...parameters]}`,
    ).toBe(true);
  }
  const largest = Math.max(...at.residuals.subarray(0, pins).map(Math.abs));
  const sum = at.residuals.subarray(0, pins).reduce((total, each) => total + each, 0);
  // Rounding of a sum of a few terms.
  expect(Math.abs(sum), `${device.name}: pin currents sum to zero`).toBeLessThanOrEqual(1e-12 * largest);
  for (let column = 0; column < count; column++) {
    const step = 1e-5 * Math.max(1e-2, Math.abs(unknowns[column]!));
    const [below, above] = [-step, step].map((shift) => {
      const shifted = Float64Array.from(unknowns);
      shifted[column]! += shift;
      return evaluate(device, shifted, parameters);
    }) as [LocalStamp, LocalStamp];
    for (let row = 0; row < count; row++) {
      const name = `${device.name}: d residual ${row} / d unknown ${column} at ${[...unknowns]} with ${[...parameters]}`;
      const derivative = at.derivatives[row * count + column]!;
      // Over a kink or a steep bend the derivative need only lie between those of the two neighbours.
      const ends = [below, above].map((each) => each.derivatives[row * count + column]!);
      const quotient = (above.residuals[row]! - below.residuals[row]!) / (2 * step);
      const size = Math.max(Math.abs(derivative), ...ends.map(Math.abs));
      // Rounding of the residual and of the terms that may cancel in it.
      let terms = Math.max(Math.abs(at.residuals[row]!), Math.abs(above.residuals[row]!));
      for (let each = 0; each < count; each++) {
        terms += Math.abs(at.derivatives[row * count + each]! * unknowns[each]!);
      }
      const rounding = (4e-16 * terms) / step;
      const slack = rel * size + 10 * rounding + 1e-15;
      expect(quotient, name).toBeGreaterThanOrEqual(Math.min(derivative, ...ends) - slack);
      expect(quotient, name).toBeLessThanOrEqual(Math.max(derivative, ...ends) + slack);
    }
  }
}

function evaluate(device: Device, unknowns: Float64Array, parameters: Float64Array): LocalStamp {
  const count = unknowns.length;
  const out = { residuals: new Float64Array(count), derivatives: new Float64Array(count * count) };
  device.evaluate(unknowns, parameters, out);
  return out;
}
