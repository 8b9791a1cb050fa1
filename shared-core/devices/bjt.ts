import { defineDevice, type LocalStamp } from '../circuit/device.ts';
import { limitJunction, thermalVolts } from './junction.ts';

/** Above this current, in amperes (A), the exponential goes on as a straight line: nothing here carries it. */
const straightAmps = 10;

/** Resistance that stands for the silicon in the step limit, in ohms (Ω). */
const bulkOhms = 0.1;

/**
 * Bipolar transistor
 *
 * Ebers and Moll's transistor in transport form with the two additions of Gummel and Poon that matter at
 * low frequency: the Early effect and the fall of the current gain at high current (IKF).
 * `Ic = (If − Ir)/qb − Ir/BR`, `Ib = If/BF + Ir/BR`, `qb = (1 + √(1 + 4·If/IKF))/2 / (1 − vbc/VAF)`.
 * J. J. Ebers and J. L. Moll, Proc. IRE 42, 1954; H. K. Gummel and H. C. Poon, Bell System Technical
 * Journal 49, 1970. At 27 °C; no breakdown, no quasi-saturation, no thermal feedback.
 */
export const bjt = defineDevice({
  name: 'bjt',
  pins: ['collector', 'base', 'emitter'],
  parameters: [
    { name: 'polarity', unit: '', initial: 1, range: [-1, 1], meaning: '1 npn, −1 pnp' },
    { name: 'saturationAmps', unit: 'A', initial: 1e-14, range: [1e-18, 1e-9], meaning: 'IS' },
    { name: 'forwardGain', unit: '', initial: 200, range: [5, 2000], meaning: 'BF' },
    { name: 'reverseGain', unit: '', initial: 4, range: [0.1, 100], meaning: 'BR' },
    { name: 'earlyVolts', unit: 'V', initial: 100, range: [10, 1e4], meaning: 'VAF' },
    { name: 'kneeAmps', unit: 'A', initial: 0.3, range: [1e-3, 100], meaning: 'IKF' },
    { name: 'emissionFactor', unit: '', initial: 1, range: [0.9, 2], meaning: 'N of both junctions' },
  ],
  evaluate,
  start: ([polarity]) => [
    [1, 2, polarity! < 0 ? -0.6 : 0.6],
    [0, 2, polarity! < 0 ? -5 : 5],
  ],
  limitStep(last, next, parameters) {
    const sign = parameters[0]! < 0 ? -1 : 1;
    const spread = parameters[6]! * thermalVolts;
    const hold = (end: 0 | 2): boolean => {
      const asked = sign * (next[1]! - next[end]!);
      const from = sign * (last[1]! - last[end]!);
      const allowed = limitJunction(from, asked, spread, parameters[1]!, bulkOhms);
      if (allowed === asked) return false;
      next[end] = next[1]! - sign * allowed;
      return true;
    };
    const isEmitterHeld = hold(2);
    return hold(0) || isEmitterHeld;
  },
  report(unknowns, parameters) {
    const out = { residuals: new Float64Array(3), derivatives: new Float64Array(9) };
    evaluate(unknowns, parameters, out);
    const [collector, base, emitter] = unknowns as unknown as readonly number[];
    const watts = out.residuals[0]! * (collector! - emitter!) + out.residuals[1]! * (base! - emitter!);
    return [
      { what: 'collector current', unit: 'A', value: Math.abs(out.residuals[0]!) },
      { what: 'collector-emitter voltage', unit: 'V', value: Math.abs(collector! - emitter!) },
      { what: 'dissipation', unit: 'W', value: watts },
    ];
  },
});

/** IS·(exp(v/spread) − 1), straight above `straightAmps`: amperes (A) and siemens (S). */
function junction(volts: number, scaleAmps: number, spread: number): readonly [number, number] {
  const most = Math.log(straightAmps / scaleAmps);
  const x = volts / spread;
  if (x <= most) {
    const power = scaleAmps * Math.exp(x);
    return [power - scaleAmps, power / spread];
  }
  return [straightAmps * (1 + x - most) - scaleAmps, straightAmps / spread];
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const [polarity, scaleAmps, forward, reverse, early, knee, emission] =
    parameters as unknown as readonly number[];
  const sign = polarity! < 0 ? -1 : 1;
  const spread = emission! * thermalVolts;
  const baseEmitter = sign * (unknowns[1]! - unknowns[2]!);
  const baseCollector = sign * (unknowns[1]! - unknowns[0]!);
  const [ahead, aheadSlope] = junction(baseEmitter, scaleAmps!, spread);
  const [back, backSlope] = junction(baseCollector, scaleAmps!, spread);
  // A base-collector voltage beyond the Early voltage in the forward direction does not occur.
  const lift = Math.max(0.1, 1 - baseCollector / early!);
  const liftSlope = lift > 0.1 ? -1 / early! : 0;
  const root = Math.sqrt(1 + (4 * Math.max(0, ahead)) / knee!);
  const share = 2 / (1 + root);
  const shareSlope = ahead > 0 ? (-share * share * aheadSlope) / (knee! * root) : 0;
  const transport = (ahead - back) * share * lift;
  const byEmitter = aheadSlope * share * lift + (ahead - back) * shareSlope * lift;
  const byCollector = -backSlope * share * lift + (ahead - back) * share * liftSlope;
  const collector = transport - back / reverse!;
  const base = ahead / forward! + back / reverse!;
  out.residuals[0] = sign * collector;
  out.residuals[1] = sign * base;
  // Written out: the reverse base current cancels between the two.
  out.residuals[2] = -sign * (transport + ahead / forward!);
  const fill = (row: number, byBe: number, byBc: number): void => {
    // v(be) = b − e, v(bc) = b − c; the polarity cancels.
    out.derivatives[row * 3] = -byBc;
    out.derivatives[row * 3 + 1] = byBe + byBc;
    out.derivatives[row * 3 + 2] = -byBe;
  };
  fill(0, byEmitter, byCollector - backSlope / reverse!);
  fill(1, aheadSlope / forward!, backSlope / reverse!);
  fill(2, -byEmitter - aheadSlope / forward!, -byCollector);
}
