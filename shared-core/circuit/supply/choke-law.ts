import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { lawNumbers, type PhaseCurve } from './rectifier-law.ts';

/** Mean of a rectified sine over its crest: where the current just never ceases. */
export const continuousShare = 2 / Math.PI;

/** Where the current just never ceases: arccos of that share, in radians. */
export const continuousAngle = Math.acos(continuousShare);

/** Nodes over one pulse: exact to rounding for a sine piece shorter than a turn. */
const pulseRule = gaussLegendre(24);

/**
 * Mean current of a choke behind an ideal rectifier, as a share of E/(ωL).
 *
 * The current begins where E·sin θ rises through the steady voltage behind the choke, E·cos a, at the
 * angle a before the crest, and ends where the area above that voltage is used up: with s counted from
 * there, j = sin a − sin(a − s) − s·cos a, and with two phases |sin θ| in place of sin θ.
 * dk/da = sin a·s²/2 over the period, because j and dj/ds vanish at the beginning.
 *
 * @param angle a, in radians: 0 to `continuousAngle` for two phases, to π/2 for one.
 * @param out k and, after it, dk/da.
 */
export function chokeShare(angle: number, isFullWave: boolean, out: Float64Array): void {
  const period = isFullWave ? Math.PI : 2 * Math.PI;
  const fold = isFullWave ? Math.PI / 2 + angle : Infinity;
  const width = angle > 0 ? pulseWidth(angle, fold, period) : 0;
  let area = 0;
  // Up to where the second phase takes over in one piece, the rest in another.
  const first = Math.min(width, fold);
  for (let index = 0; index < pulseRule.nodes.length; index++) {
    const [node, weight] = [pulseRule.nodes[index]!, pulseRule.weights[index]!];
    area += weight * first * pulseHeight(first * node, angle, fold);
    if (width > first) {
      area += weight * (width - first) * pulseHeight(first + (width - first) * node, angle, fold);
    }
  }
  out[0] = area / period;
  out[1] = (Math.sin(angle) * width * width) / (2 * period);
}

/** Where the pulse ends, counted from its beginning: a safe Newton. */
function pulseWidth(angle: number, fold: number, period: number): number {
  let [low, high] = [2 * angle, period];
  let width = Math.min(high, 3 * angle);
  for (let round = 0; round < 80; round++) {
    const height = pulseHeight(width, angle, fold);
    if (height > 0) low = width;
    else high = width;
    const slope =
      width > fold
        ? -Math.cos(angle - width) - Math.cos(angle)
        : 2 * Math.sin(angle - width / 2) * Math.sin(width / 2);
    let next = slope < 0 ? width - height / slope : (low + high) / 2;
    if (!(next > low && next < high)) next = (low + high) / 2;
    const isDone = Math.abs(next - width) <= 4e-16 * width;
    width = next;
    if (isDone) break;
  }
  return width;
}

/** j at s, written so that narrow pulses lose no digits. */
function pulseHeight(s: number, angle: number, fold: number): number {
  if (s > fold) return Math.sin(angle) + 2 + Math.sin(angle - s) - s * Math.cos(angle);
  const half = s / 2;
  // 1 − sin(x)/x.
  const lack =
    half < 0.3
      ? (half * half * (1 - (half * half * (1 - (half * half * (1 - (half * half) / 72)) / 42)) / 20)) / 6
      : 1 - Math.sin(half) / half;
  return s * (2 * Math.sin(angle - s / 4) * Math.sin(s / 4) - Math.cos(angle - half) * lack);
}

/** Drop of a phase's copper and rectifier at a steady current: volts (V) and ohms (Ω). */
export function phaseDrop(curve: PhaseCurve, amps: number, out: Float64Array): void {
  out[0] = curve.ohms * amps;
  out[1] = curve.ohms;
  if (!(amps > 0)) return;
  if (curve.law === lawNumbers.semiconductor) {
    out[0]! += curve.scale * Math.log1p(amps / curve.saturationAmps);
    out[1]! += curve.scale / (amps + curve.saturationAmps);
  } else if (curve.law === lawNumbers.valve) {
    const drop = Math.cbrt(amps / curve.scale) ** 2;
    out[0]! += drop;
    out[1]! += (2 * drop) / (3 * amps);
  }
}

/** What feeds the choke: one phase or two alike, the mains, and its inductance. */
export interface ChokeSource {
  readonly phases: readonly [PhaseCurve, PhaseCurve];
  readonly hertz: number;
  readonly henries: number;
}

const dropOut = new Float64Array(2);
const shareOut = new Float64Array(2);

/**
 * Mean current of a choke-input supply at a steady mean voltage before the choke.
 *
 * The drop of copper and rectifier is taken at the mean current. While the current never ceases the mean
 * voltage is 2/π of the crest less the drop, whatever the choke; below the critical current, where it
 * does, `chokeShare` rules (F. E. Terman, Radio Engineers' Handbook, 1943, section 8: critical inductance).
 * Below 0 V the curve goes on as a straight line.
 *
 * @param volts Mean before the choke, in volts (V).
 * @param out Mean amperes (A) and, after it, dI/dV in siemens (S), negative.
 */
export function averageChoke(source: ChokeSource, volts: number, out: Float64Array): void {
  const held = Math.max(0, volts);
  const used = source.phases.filter(({ law }) => law !== lawNumbers.none);
  out[0] = 0;
  out[1] = 0;
  const emf = used.reduce((sum, curve) => sum + curve.emfVolts, 0) / Math.max(1, used.length);
  if (used.length === 0 || held >= emf) return;
  const isFullWave = used.length > 1;
  const perShare = emf / (2 * Math.PI * source.hertz * source.henries);
  const widest = isFullWave ? continuousAngle : Math.PI / 2;
  chokeShare(widest, isFullWave, shareOut);
  const critical = perShare * shareOut[0]!;
  meanDrop(used, critical);
  const left = emf * continuousShare - held;
  if (isFullWave && dropOut[0]! <= left) solveContinuous(used, left, critical, out);
  else solvePulsed(used, emf, perShare, widest, emf - held, isFullWave, out);
  if (volts < 0) out[0]! += out[1]! * volts;
}

function meanDrop(used: readonly PhaseCurve[], amps: number): void {
  let volts = 0;
  let ohms = 0;
  for (const curve of used) {
    phaseDrop(curve, amps, dropOut);
    volts += dropOut[0]! / used.length;
    ohms += dropOut[1]! / used.length;
  }
  dropOut[0] = volts;
  dropOut[1] = ohms;
}

/** The drop is concave: Newton from below never oversteps. */
function solveContinuous(
  used: readonly PhaseCurve[],
  left: number,
  critical: number,
  out: Float64Array,
): void {
  let amps = critical;
  for (let round = 0; round < 60; round++) {
    meanDrop(used, amps);
    const step = (left - dropOut[0]!) / dropOut[1]!;
    amps += step;
    if (Math.abs(step) <= 1e-14 * amps) break;
  }
  meanDrop(used, amps);
  out[0] = amps;
  out[1] = -1 / dropOut[1]!;
}

/** Solves E·(1 − cos a) + drop(k(a)·E/(ωL)) = E − V for a by a safe Newton. */
function solvePulsed(
  used: readonly PhaseCurve[],
  emf: number,
  perShare: number,
  widest: number,
  left: number,
  isFullWave: boolean,
  out: Float64Array,
): void {
  let [low, high] = [0, widest];
  let angle = Math.min(widest, 0.9 * Math.sqrt((2 * left) / emf));
  for (let round = 0; round < 80; round++) {
    chokeShare(angle, isFullWave, shareOut);
    const amps = perShare * shareOut[0]!;
    const rise = perShare * shareOut[1]!;
    meanDrop(used, amps);
    const excess = 2 * emf * Math.sin(angle / 2) ** 2 + dropOut[0]! - left;
    const slope = emf * Math.sin(angle) + dropOut[1]! * rise;
    // With the last step's own share: what is left is of second order.
    out[0] = amps - (rise * excess) / slope;
    out[1] = -rise / slope;
    if (excess > 0) high = angle;
    else low = angle;
    let next = angle - excess / slope;
    if (!(next >= low && next <= high)) next = (low + high) / 2;
    if (Math.abs(next - angle) <= 1e-12 * angle) break;
    angle = next;
  }
}
