import { defineDevice, type LocalStamp } from '../circuit/device.ts';
import { junctionWithOhms, limitJunction, tailFactor, thermalVolts } from './junction.ts';

/** Body diode of a power MOSFET: saturation current, in amperes (A), and resistance, in ohms (Ω). */
const bodyAmps = 1e-11;
const bodyOhms = 0.05;

/** How far a step may take the gate past the threshold, either way, in volts (V). */
const firstGateStep = 0.2;
/** Below this a step of the drain is taken in pieces, in volts (V). */
const kneeVolts = 3.5;

/**
 * Enhancement MOSFET with its body on the source
 *
 * The square law with a smooth subthreshold join, symmetric in drain and source:
 * `I = 2·K·VT²·n²·(ln²(1 + e^(u/2)) − ln²(1 + e^((u − v/(n·VT))/2)))·(1 + λ·vds)`, u = (vgs − Vth)/(n·VT),
 * which saturates at K/2·(vgs − Vth)². C. C. Enz, F. Krummenacher and E. A. Vittoz, Analog Integrated
 * Circuits and Signal Processing 8, 1995, equations 47 to 49. The body diode conducts in reverse. No
 * series resistance: for followers and current sources, not for a switch at its rated current. No
 * breakdown; the threshold's fall with temperature is not followed.
 */
export const mosfet = defineDevice({
  name: 'mosfet',
  pins: ['drain', 'gate', 'source'],
  parameters: [
    { name: 'polarity', unit: '', initial: 1, range: [-1, 1], meaning: '1 n-channel, −1 p-channel' },
    { name: 'thresholdVolts', unit: 'V', initial: 3.5, range: [0.3, 10], meaning: 'Vth' },
    { name: 'transconductance', unit: 'A/V²', initial: 1, range: [1e-4, 100], meaning: 'K' },
    { name: 'subthresholdFactor', unit: '', initial: 1.5, range: [1, 4], meaning: 'n' },
    {
      name: 'modulation',
      unit: '1/V',
      initial: 1e-3,
      range: [0, 0.1],
      meaning: 'λ, channel length modulation',
    },
    { name: 'gateSourceFarads', unit: 'F', initial: 0, range: [0, 1e-8], meaning: 'Gate to source' },
    { name: 'gateDrainFarads', unit: 'F', initial: 0, range: [0, 1e-8], meaning: 'Gate to drain' },
  ],
  evaluate,
  start: ([polarity, threshold]) => {
    const sign = polarity! < 0 ? -1 : 1;
    return [
      [1, 2, sign * (threshold! + 0.1)],
      [0, 2, sign * 10],
    ];
  },
  limitStep,
  storage: (parameters) => [
    { kind: 'charge', plus: 1, minus: 2, farads: parameters[5]! },
    { kind: 'charge', plus: 1, minus: 0, farads: parameters[6]! },
  ],
  report(unknowns, parameters) {
    const out = { residuals: new Float64Array(3), derivatives: new Float64Array(9) };
    evaluate(unknowns, parameters, out);
    const [drain, gate, source] = unknowns as unknown as readonly number[];
    return [
      { what: 'drain current', unit: 'A', value: Math.abs(out.residuals[0]!) },
      { what: 'drain-source voltage', unit: 'V', value: Math.abs(drain! - source!) },
      { what: 'gate-source voltage', unit: 'V', value: Math.abs(gate! - source!) },
      { what: 'dissipation', unit: 'W', value: out.residuals[0]! * (drain! - source!) },
    ];
  },
});

/** ln(1 + e^x). */
function softplus(x: number): number {
  return x > 40 ? x : Math.log1p(Math.exp(x));
}

/** 1/(1 + e^−x). */
function share(x: number): number {
  return x > 0 ? 1 / (1 + Math.exp(-x)) : Math.exp(x) / (1 + Math.exp(x));
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const [polarity, threshold, factor, n, modulation] = parameters as unknown as readonly number[];
  const sign = polarity! < 0 ? -1 : 1;
  const gate = sign * (unknowns[1]! - unknowns[2]!);
  const drain = sign * (unknowns[0]! - unknowns[2]!);
  const unit = n! * thermalVolts;
  const scale = 2 * factor! * unit * unit;
  // Inversion at the source and at the drain end.
  const near = (gate - threshold!) / unit / 2;
  const across = drain / unit / 2;
  const [first, second] = [softplus(near), softplus(near - across)];
  const [firstShare, secondShare] = [share(near), share(near - across)];
  // Their difference, without the cancellation of a small drain voltage.
  const left = Math.abs(across) < 1 ? Math.log1p(Math.expm1(across) * secondShare) : first - second;
  const channel = scale * left * (first + second);
  const lift = 1 + modulation! * Math.max(0, drain);
  const [body, bodySlope] = junctionWithOhms(-drain + bodyAmps * bodyOhms, bodyAmps, thermalVolts, bodyOhms);
  const amps = channel * lift - (body - bodyAmps);
  const byGate = (scale * (left * firstShare + second * (firstShare - secondShare)) * lift) / unit;
  const byDrain =
    (scale * second * secondShare * lift) / unit + (drain > 0 ? channel * modulation! : 0) + bodySlope;
  out.residuals[0] = sign * amps;
  out.residuals[2] = -sign * amps;
  const row = [byDrain, byGate, -byDrain - byGate];
  row.forEach((value, column) => {
    out.derivatives[column] = value;
    out.derivatives[6 + column] = -value;
  });
}

/** The gate's step past the threshold, the drain's through the knee, and the body diode's junction. */
function limitStep(last: Float64Array, next: Float64Array, parameters: Float64Array): boolean {
  const sign = parameters[0]! < 0 ? -1 : 1;
  const threshold = parameters[1]!;
  let isHeld = false;
  const asked = sign * (next[1]! - next[2]!);
  const from = sign * (last[1]! - last[2]!);
  const over = from - threshold;
  let gate = asked;
  const unit = parameters[3]! * thermalVolts;
  const tail = over < -2 * unit ? tailFactor((asked - from) / unit) : 1;
  if (tail > 1) gate = from + tail * (asked - from);
  else if (over <= 0) gate = Math.min(asked, threshold + firstGateStep);
  else if (asked > from) gate = Math.min(asked, from + over + firstGateStep);
  else gate = Math.max(asked, over > firstGateStep ? threshold + over / 2 : threshold - firstGateStep);
  if (gate !== asked) {
    isHeld = true;
    next[1] = next[2]! + sign * gate;
  }
  const drain = sign * (next[0]! - next[2]!);
  const lastDrain = sign * (last[0]! - last[2]!);
  const held = limitDrain(lastDrain, drain);
  if (held !== drain) {
    isHeld = true;
    next[0] = next[2]! + sign * held;
  }
  return isHeld;
}

/** Steps of the drain through the knee, where a tangent misleads most (after L. W. Nagel, SPICE2, 1975). */
function limitDrain(from: number, to: number): number {
  if (from >= kneeVolts) return to > from ? Math.min(to, 3 * from + 2) : Math.max(to, kneeVolts / 2);
  if (from > 0) return to > from ? Math.min(to, kneeVolts + 0.5) : Math.max(to, -0.2);
  return Math.min(kneeVolts / 2, -limitJunction(-from, -to, thermalVolts, bodyAmps, bodyOhms));
}
