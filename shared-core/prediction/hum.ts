import type { ChokeWaveform } from '../circuit/supply/choke-shooting.ts';
import type { FoundSupply } from '../circuit/supply/supply-wiring.ts';
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
 * The ripple is that of the periodic steady state; its harmonics drive the reservoir's net, that behind the
 * choke of a choke-input supply. Heaters, stray
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
  for (const [index, { id, supply }] of supplies.found.entries()) {
    const { device, point, parameters } = solver.evaluateElement(id);
    const waveform = state.waveforms[index];
    const ripple =
      device === rectifierSupply
        ? supplyRipple(point, parameters, harmonics)
        : waveform && 'harmonics' in waveform
          ? (waveform as ChokeWaveform).harmonics
          : null;
    const driven = drivenNet(supply, model.context.wiring.reference);
    if (!ripple || !driven) return null;
    const source = { kind: 'net', net: driven.net } as const;
    for (const [order, { hertz, cosine, sine }] of ripple.entries()) {
      // A first phase on the other half of the mains: half a cycle later, which turns the odd harmonics round.
      const sign = driven.sign * (supply.phases[0].isOpposite && order % 2 === 0 ? -1 : 1);
      const [real, imaginary] = small.transferBetween(source, plus, minus, hertz);
      // cosine − j·sine is the phasor of the ripple.
      const sum = sums.get(hertz) ?? [0, 0];
      sums.set(hertz, [
        sum[0] + sign * (cosine * real + sine * imaginary),
        sum[1] + sign * (cosine * imaginary - sine * real),
      ]);
    }
  }
  if (sums.size === 0) return null;
  const parts = [...sums].map(([hertz, sum]) => ({ hertz, volts: Math.hypot(...sum) / Math.SQRT2 }));
  return { volts: Math.hypot(...parts.map(({ volts }) => volts)), parts };
}

/**
 * The net that a supply's ripple stands on against the chassis, behind the choke where there is one, and its sign;
 * null where neither side of the supply is the chassis.
 */
function drivenNet(
  { plus, minus, choke }: FoundSupply,
  reference: string,
): { readonly net: string; readonly sign: 1 | -1 } | null {
  const behind = (net: string): string => {
    if (!choke?.nets.includes(net)) return net;
    return choke.nets[0] === net ? choke.nets[1] : choke.nets[0];
  };
  const [high, low] = [behind(plus), behind(minus)];
  if (low === reference) return { net: high, sign: 1 };
  return high === reference ? { net: low, sign: -1 } : null;
}
