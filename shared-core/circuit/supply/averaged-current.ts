import { gaussLegendre } from '../../numerics/gauss-legendre.ts';
import { wrightOmega } from '../../numerics/wright-omega.ts';
import { junctionArgument, lawNumbers, type PhaseCurve, valveRoot } from './rectifier-law.ts';

/** Nodes over half a conduction angle: quadrature error below 1e-8 of the current (see the tests). */
const valveRule = gaussLegendre(12);
const junctionRule = gaussLegendre(20);

/** Of each junction node: factor of ω, 6u(1−u²)²·weight, 1−(1−u²)³ and −3 ln(1−u²). */
const junctionShare = junctionRule.nodes.map((u) => (1 - u * u) ** 3);
const junctionWeight = junctionRule.nodes.map(
  (u, index) => 6 * u * (1 - u * u) ** 2 * junctionRule.weights[index]!,
);
const junctionRise = junctionShare.map((share) => 1 - share);
const junctionLog = junctionRule.nodes.map((u) => -3 * Math.log(1 - u * u));

/**
 * Current of one phase averaged over the mains cycle, the reservoir held at a steady voltage.
 *
 * The phase conducts while E·sin θ exceeds V; at each angle i solves E·sin θ − V = R·i + v(i). Instead of
 * solving at fixed angles, the integral is taken over the rectifier's own variable (the square root of a
 * valve's drop; ω of a junction, R·i/(N·kT/q)), in which E·sin θ is explicit and the integrand is smooth;
 * p = p_max·(1 − u²)^k then removes the root at the crest and the logarithm of the tail. Only the value at
 * the crest is solved for, by a safe Newton. Below 0 V, where the conduction angle would pass 180°, the
 * curve goes on as a straight line.
 *
 * @param volts Reservoir voltage V, in volts (V).
 * @param out Mean amperes (A) and, after it, dI/dV in siemens (S), negative.
 */
export function averagePhase(curve: PhaseCurve, volts: number, out: Float64Array): void {
  const held = volts > 0 ? volts : 0;
  out[0] = 0;
  out[1] = 0;
  if (curve.law === lawNumbers.semiconductor) averageJunction(curve, held, out);
  else if (held >= curve.emfVolts) return;
  else if (curve.law === lawNumbers.valve) averageValve(curve, held, out);
  else if (curve.law === lawNumbers.ideal) averageIdeal(curve, held, out);
  if (volts < 0) out[0]! += out[1]! * volts;
}

/** Closed form of the idealised circuit (O. H. Schade, Proc. IRE 31, 1943, 341–361). */
function averageIdeal(curve: PhaseCurve, volts: number, out: Float64Array): void {
  const ratio = volts / curve.emfVolts;
  const half = Math.acos(ratio);
  out[0] = (curve.emfVolts / (Math.PI * curve.ohms)) * (Math.sqrt((1 - ratio) * (1 + ratio)) - ratio * half);
  out[1] = -half / (Math.PI * curve.ohms);
}

function averageValve(curve: PhaseCurve, volts: number, out: Float64Array): void {
  const { emfVolts, scale } = curve;
  const { nodes, weights } = valveRule;
  const stiffness = curve.ohms * scale;
  const top = valveRoot(emfVolts - volts, stiffness);
  let amps = 0;
  let slope = 0;
  for (let index = 0; index < nodes.length; index++) {
    const u = nodes[index]!;
    const down = top * u * u;
    const w = top - down;
    // What is left to the crest, E − E·sin θ, without the cancellation.
    const left = down * (w + top + stiffness * (w * w + w * top + top * top));
    const piece = (weights[index]! * 2 * top * u * w * w) / Math.sqrt(left * (2 * emfVolts - left));
    amps += piece * w * w * (2 + 3 * stiffness * w);
    slope += piece;
  }
  out[0] = (scale * amps) / Math.PI;
  out[1] = (-3 * scale * slope) / Math.PI;
}

function averageJunction(curve: PhaseCurve, volts: number, out: Float64Array): void {
  const { emfVolts, ohms, scale } = curve;
  const top = wrightOmega(junctionArgument(curve, emfVolts - volts));
  const deepest = 1.999 * emfVolts;
  let amps = 0;
  let slope = 0;
  for (let index = 0; index < junctionWeight.length; index++) {
    let left = scale * (top * junctionRise[index]! + junctionLog[index]!);
    if (left > deepest) left = deepest;
    const piece = (top * junctionWeight[index]!) / Math.sqrt(left * (2 * emfVolts - left));
    amps += piece * (1 + top * junctionShare[index]!);
    slope += piece;
  }
  out[0] = (scale * scale * amps) / (Math.PI * ohms) - curve.saturationAmps;
  out[1] = (-scale * slope) / (Math.PI * ohms);
}
