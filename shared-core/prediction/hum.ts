import type { SmallSignal } from '../circuit/small-signal.ts';
import { rectifierSupply, supplyRipple } from '../devices/rectifier-supply.ts';
import type { ConditionState } from './condition-model.ts';

/** Hum at a place, from the ripple of the supplies through the stages. */
export interface HumFigures {
  /** In volts rms (V). */
  readonly volts: number;
  /** By frequency, in hertz (Hz) and volts rms (V). */
  readonly parts: readonly { readonly hertz: number; readonly volts: number }[];
}

/** Harmonics of the mains that are followed: ten, to 500 Hz or 600 Hz; filters leave little above. */
const harmonics = 10;

/**
 * Hum between two nets: each harmonic of each reservoir's ripple through the circuit made linear.
 *
 * The ripple is that of the periodic steady state; its harmonics drive the reservoir's net. Heaters, stray
 * fields, and windings near the output transformer are not in it: an amplifier hums at least this much.
 *
 * @returns Null where a supply's ripple is not known, or none is there.
 */
export function humAt(
  state: ConditionState,
  small: SmallSignal,
  plus: string,
  minus: string,
): HumFigures | null {
  const { solver, supplies, model } = state;
  const sums = new Map<number, [number, number]>();
  for (const { id, supply } of supplies.found) {
    const { device, point, parameters } = solver.evaluateElement(id);
    const ripple = device === rectifierSupply ? supplyRipple(point, parameters, harmonics) : null;
    if (!ripple || supply.minus !== model.context.wiring.reference) return null;
    for (const { hertz, cosine, sine } of ripple) {
      const [real, imaginary] = small.transferBetween({ kind: 'net', net: supply.plus }, plus, minus, hertz);
      // cosine − j·sine is the phasor of the ripple.
      const sum = sums.get(hertz) ?? [0, 0];
      sums.set(hertz, [sum[0] + cosine * real + sine * imaginary, sum[1] + cosine * imaginary - sine * real]);
    }
  }
  if (sums.size === 0) return null;
  const parts = [...sums].map(([hertz, sum]) => ({ hertz, volts: Math.hypot(...sum) / Math.SQRT2 }));
  return { volts: Math.hypot(...parts.map(({ volts }) => volts)), parts };
}
