import { defineDevice, type LocalStamp } from '../circuit/device.ts';
import {
  clampScreen,
  clampScreenSlope,
  closeAtCathode,
  cutoffBelow,
  followTail,
  gate,
  gateSlope,
  limitAnodeVolts,
  limitScreenVolts,
  logistic,
  positiveRamp,
  positiveRampSlope,
  softplus,
  stampGrid,
} from './valve-laws.ts';

/** A step out of the pentode's knee is at most this many times KVB: the fewest iterations over single faults of 1, 2, 3 and 6. */
const kneeSteps = 2;

/**
 * Pentode or beam tetrode: Koren's arctangent law, with a refitted screen law, grid current and gas.
 *
 * N. L. Koren, "Improved Vacuum-Tube Models for SPICE Simulations", Glass Audio 8(5), 1996, p. 18:
 *
 * E1 = (Vg2/KP)·ln(1 + exp(KP·(1/MU + Vg1/Vg2))), Ia = 2·(E1^EX/KG1)·arctan(Va/KVB)·(1 + λ·Va).
 *
 * The published screen law is far off the makers' figures; here Ig2 = 2·E1^EX/KG2 with KG2 fitted to them, faded
 * out between 1 V and 0 V on the screen. Vg2 is held at 0.1 V or more inside E1. Below 1 V on the anode a
 * cubic joins the law to zero with a continuous slope, and Ia is 0 for Va ≤ 0. λ is 0 unless fitted with KG1.
 * Triode and ultra-linear connection follow from the wiring: all electrodes are pins.
 *
 * Grid current, gas and `emission` as in the triode. Valid where the type's data are verified; the knee below
 * 50 V and positive grid are not, for any set, and the anode resistance comes out 1.5 to 5 times too high.
 */
export const pentode = defineDevice({
  name: 'pentode',
  pins: ['anode', 'screen', 'grid', 'cathode'],
  parameters: [
    { name: 'mu', unit: '', initial: 19.73, range: [1.5, 100], meaning: 'Grid to screen amplification MU' },
    { name: 'ex', unit: '', initial: 1.359, range: [1.01, 2], meaning: 'Exponent EX' },
    { name: 'kg1', unit: '', initial: 628.5, range: [10, 1e5], meaning: 'Inverse perveance KG1' },
    { name: 'kp', unit: '', initial: 132.6, range: [5, 5000], meaning: 'Cutoff sharpness KP' },
    { name: 'kvb', unit: 'V', initial: 17.9, range: [0.5, 500], meaning: 'Knee KVB, in the arctangent' },
    {
      name: 'kg2',
      unit: '',
      initial: 3684.3,
      range: [10, 1e6],
      meaning: 'Inverse perveance of the screen KG2',
    },
    {
      name: 'lambda',
      unit: '1/V',
      initial: 0,
      range: [0, 0.01],
      meaning: 'Slope of anode current above the knee',
    },
    {
      name: 'gridOhms',
      unit: 'Ω',
      initial: 1000,
      range: [100, 1e5],
      meaning: 'Grid current: resistance above onset',
    },
    { name: 'gridOnset', unit: 'V', initial: 0.25, range: [-2, 2], meaning: 'Grid current: onset' },
    {
      name: 'gridSlope',
      unit: 'V',
      initial: 0.1,
      range: [0.02, 0.5],
      meaning: 'Grid current: volts per factor e below onset',
    },
    {
      name: 'gasRatio',
      unit: '',
      initial: 0,
      range: [0, 0.01],
      meaning: 'Reverse grid current as a share of anode current',
    },
    { name: 'emission', unit: '', initial: 1, range: [0, 2], meaning: '1 healthy, 0.5 weak, 0 cold' },
  ],
  evaluate,
  start: [
    [0, 3, 200],
    [1, 3, 200],
    [2, 3, 0],
  ],
  limitStep(last, next, parameters) {
    if (followTail(last, next, cutoffChange(last, next, parameters), parameters, logAmps)) return true;
    const askedScreen = next[1]! - next[3]!;
    const screen = limitScreenVolts(last[1]! - last[3]!, askedScreen);
    if (screen !== askedScreen) next[1] = next[3]! + screen;
    const asked = next[0]! - next[3]!;
    const allowed = limitAnodeVolts(last[0]! - last[3]!, asked, kneeSteps * parameters[4]!);
    if (allowed !== asked) next[0] = next[3]! + allowed;
    return allowed !== asked || screen !== askedScreen;
  },
  report(unknowns, parameters) {
    const out = { residuals: new Float64Array(4), derivatives: new Float64Array(16) };
    evaluate(unknowns, parameters, out);
    const anodeVolts = unknowns[0]! - unknowns[3]!;
    const screenVolts = unknowns[1]! - unknowns[3]!;
    return [
      { what: 'anode voltage', unit: 'V', value: anodeVolts },
      { what: 'screen voltage', unit: 'V', value: screenVolts },
      { what: 'grid voltage', unit: 'V', value: unknowns[2]! - unknowns[3]! },
      { what: 'anode current', unit: 'A', value: out.residuals[0]! },
      { what: 'screen current', unit: 'A', value: out.residuals[1]! },
      { what: 'cathode current', unit: 'A', value: -out.residuals[3]! },
      { what: 'anode dissipation', unit: 'W', value: anodeVolts * out.residuals[0]! },
      { what: 'screen dissipation', unit: 'W', value: screenVolts * out.residuals[1]! },
    ];
  },
});

/**
 * Relative change of the cathode current along a step by its tangent, where the valve is cut off and the law all
 * but exponential; 0 elsewhere.
 */
function cutoffChange(last: Float64Array, next: Float64Array, parameters: Float64Array): number {
  const screenVolts = last[1]! - last[3]!;
  if (!(screenVolts > 1)) return 0;
  const gridVolts = last[2]! - last[3]!;
  const kp = parameters[3]!;
  if (!(kp * (1 / parameters[0]! + gridVolts / screenVolts) < cutoffBelow)) return 0;
  const byScreen = next[1]! - next[3]! - screenVolts;
  const byGrid = next[2]! - next[3]! - gridVolts;
  const soft = (kp / screenVolts) * (byGrid - (gridVolts * byScreen) / screenVolts);
  return parameters[1]! * (byScreen / screenVolts + soft);
}

/** Logarithm of the cathode current of a valve that is cut off, but for a constant. */
function logAmps(unknowns: Float64Array, parameters: Float64Array): number {
  const screenVolts = unknowns[1]! - unknowns[3]!;
  if (!(screenVolts > 0)) return -Infinity;
  const x = parameters[3]! * (1 / parameters[0]! + (unknowns[2]! - unknowns[3]!) / screenVolts);
  return parameters[1]! * (Math.log(screenVolts) + x);
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const mu = parameters[0]!;
  const ex = parameters[1]!;
  const kg1 = parameters[2]!;
  const kp = parameters[3]!;
  const kvb = parameters[4]!;
  const kg2 = parameters[5]!;
  const lambda = parameters[6]!;
  const emission = parameters[11]!;
  const cathode = unknowns[3]!;
  const anodeVolts = unknowns[0]! - cathode;
  const screenVolts = unknowns[1]! - cathode;
  const gridVolts = unknowns[2]! - cathode;

  const held = clampScreen(screenVolts);
  const x = kp * (1 / mu + gridVolts / held);
  const soft = softplus(x);
  const share = logistic(x);
  const e1 = (held / kp) * soft;
  const flow = emission * 2 * e1 ** ex;
  const flowByE1 = emission * 2 * ex * e1 ** (ex - 1);
  const flowByGrid = flowByE1 * share;
  const flowByScreen = flowByE1 * (soft / kp - (share * gridVolts) / held) * clampScreenSlope(screenVolts);

  const ramp = positiveRamp(anodeVolts);
  const bend = Math.atan(ramp / kvb);
  const tilt = 1 + lambda * anodeVolts;
  const shape = (bend * tilt) / kg1;
  const bendSlope = (positiveRampSlope(anodeVolts) * kvb) / (kvb * kvb + ramp * ramp);
  const shapeSlope = (bendSlope * tilt + bend * lambda) / kg1;
  const screenShare = gate(screenVolts) / kg2;

  const { residuals, derivatives } = out;
  residuals[0] = flow * shape;
  residuals[1] = flow * screenShare;
  derivatives[0] = flow * shapeSlope;
  derivatives[1] = flowByScreen * shape;
  derivatives[2] = flowByGrid * shape;
  derivatives[4] = 0;
  derivatives[5] = flowByScreen * screenShare + (flow * gateSlope(screenVolts)) / kg2;
  derivatives[6] = flowByGrid * screenShare;
  stampGrid(out, 2, 4, gridVolts, parameters, 7);
  closeAtCathode(out, 4);
}
