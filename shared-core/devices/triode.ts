import { defineDevice, type LocalStamp } from '../circuit/device.ts';
import {
  closeAtCathode,
  cutoffBelow,
  followTail,
  limitAnodeVolts,
  logistic,
  softplus,
  stampGrid,
} from './valve-laws.ts';

/** A step out of the triode's knee is at most this many times √KVB: the fewest iterations over single faults of 1, 2, 3, 5 and 10. */
const kneeSteps = 1;

/**
 * Triode section: Koren's law, with a contact potential, grid current and gas.
 *
 * N. L. Koren, "Improved Vacuum-Tube Models for SPICE Simulations", Glass Audio 8(5), 1996, p. 18; the
 * contact potential VCT is the author's later addition (2001):
 *
 * E1 = (Va/KP)·ln(1 + exp(KP·(1/MU + (Vg + VCT)/√(KVB + Va²)))), Ia = 2·E1^EX/KG1, and 0 for Va ≤ 0.
 *
 * E1 falls to zero as Va does and EX is above 1, so value and slope of Ia are continuous at Va = 0.
 *
 * Grid current: see `stampGrid`. `emission` scales every current.
 *
 * Valid where the type's data are verified; the knee below 50 V and positive grid are not, for any set.
 */
export const triode = defineDevice({
  name: 'triode',
  pins: ['anode', 'grid', 'cathode'],
  parameters: [
    { name: 'mu', unit: '', initial: 98.11, range: [1.5, 200], meaning: 'Amplification factor MU' },
    { name: 'ex', unit: '', initial: 1.459, range: [1.01, 2], meaning: 'Exponent EX' },
    { name: 'kg1', unit: '', initial: 1734.7, range: [10, 1e5], meaning: 'Inverse perveance KG1' },
    { name: 'kp', unit: '', initial: 754.39, range: [5, 5000], meaning: 'Cutoff sharpness KP' },
    { name: 'kvb', unit: 'V²', initial: 119.9, range: [0.5, 1e4], meaning: 'Knee KVB, under the root' },
    { name: 'vct', unit: 'V', initial: 0.5, range: [-2, 2], meaning: 'Contact potential VCT' },
    {
      name: 'gridOhms',
      unit: 'Ω',
      initial: 2000,
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
    [0, 2, 150],
    [1, 2, -0.5],
  ],
  limitStep(last, next, parameters) {
    if (followTail(last, next, cutoffChange(last, next, parameters), parameters, logAmps)) return true;
    const kneeVolts = kneeSteps * Math.sqrt(parameters[4]!);
    const asked = next[0]! - next[2]!;
    const allowed = limitAnodeVolts(last[0]! - last[2]!, asked, kneeVolts);
    if (allowed === asked) return false;
    next[0] = next[2]! + allowed;
    return true;
  },
  report(unknowns, parameters) {
    const out = { residuals: new Float64Array(3), derivatives: new Float64Array(9) };
    evaluate(unknowns, parameters, out);
    const anodeVolts = unknowns[0]! - unknowns[2]!;
    return [
      { what: 'anode voltage', unit: 'V', value: anodeVolts },
      { what: 'grid voltage', unit: 'V', value: unknowns[1]! - unknowns[2]! },
      { what: 'anode current', unit: 'A', value: out.residuals[0]! },
      { what: 'cathode current', unit: 'A', value: -out.residuals[2]! },
      { what: 'anode dissipation', unit: 'W', value: anodeVolts * out.residuals[0]! },
    ];
  },
});

/**
 * Relative change of the anode current along a step by its tangent, where the valve is cut off and the law all
 * but exponential; 0 elsewhere.
 */
function cutoffChange(last: Float64Array, next: Float64Array, parameters: Float64Array): number {
  const anodeVolts = last[0]! - last[2]!;
  if (!(anodeVolts > 0)) return 0;
  const kp = parameters[3]!;
  const drive = last[1]! - last[2]! + parameters[5]!;
  const root = Math.sqrt(parameters[4]! + anodeVolts * anodeVolts);
  if (!(kp * (1 / parameters[0]! + drive / root) < cutoffBelow)) return 0;
  const byAnode = next[0]! - next[2]! - anodeVolts;
  const byGrid = next[1]! - next[2]! - (last[1]! - last[2]!);
  const soft = (kp / root) * (byGrid - (drive * anodeVolts * byAnode) / (root * root));
  return parameters[1]! * (byAnode / anodeVolts + soft);
}

/** Logarithm of the anode current of a valve that is cut off, but for a constant. */
function logAmps(unknowns: Float64Array, parameters: Float64Array): number {
  const anodeVolts = unknowns[0]! - unknowns[2]!;
  if (!(anodeVolts > 0)) return -Infinity;
  const drive = unknowns[1]! - unknowns[2]! + parameters[5]!;
  const x =
    parameters[3]! * (1 / parameters[0]! + drive / Math.sqrt(parameters[4]! + anodeVolts * anodeVolts));
  return parameters[1]! * (Math.log(anodeVolts) + x);
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  const mu = parameters[0]!;
  const ex = parameters[1]!;
  const kg1 = parameters[2]!;
  const kp = parameters[3]!;
  const kvb = parameters[4]!;
  const vct = parameters[5]!;
  const emission = parameters[10]!;
  const anodeVolts = unknowns[0]! - unknowns[2]!;
  const gridVolts = unknowns[1]! - unknowns[2]!;

  let anodeAmps = 0;
  let byAnode = 0;
  let byGrid = 0;
  if (anodeVolts > 0) {
    const drive = gridVolts + vct;
    const root = Math.sqrt(kvb + anodeVolts * anodeVolts);
    const x = kp * (1 / mu + drive / root);
    const soft = softplus(x);
    const share = logistic(x);
    const e1 = (anodeVolts / kp) * soft;
    anodeAmps = (emission * 2 * e1 ** ex) / kg1;
    const byE1 = (emission * 2 * ex * e1 ** (ex - 1)) / kg1;
    byAnode = byE1 * (soft / kp - (anodeVolts * anodeVolts * share * drive) / (root * root * root));
    byGrid = (byE1 * anodeVolts * share) / root;
  }
  out.residuals[0] = anodeAmps;
  out.derivatives[0] = byAnode;
  out.derivatives[1] = byGrid;
  stampGrid(out, 1, 3, gridVolts, parameters, 6);
  closeAtCathode(out, 3);
}
