import type { LoadBranch } from './shooting-problem.ts';

/** What a circuit is to the ripple of a reservoir: a capacitance, a conductance and one branch that reacts late. */
export interface RippleLoad {
  /** In farads (F), the reservoir included where it is part of the circuit. */
  readonly farads: number;
  readonly siemens: number;
  readonly branch: LoadBranch | null;
}

/** Far above the ripple frequency, where only the capacitance is left. */
const farHarmonic = 64;
/** Share of the capacitance below which a frequency dependence is not worth a branch. */
const leastChange = 1e-7;
/** (ωτ)² beyond which the branch follows an exact integrator. */
const slowestSquare = 1e4;
/** (ωτ)² below which the branch is a capacitance at every frequency that counts. */
const fastestSquare = 1e-3;

/**
 * Fits a capacitance, a conductance and one late branch to an admittance at the ripple frequency, at twice
 * and at 64 times that.
 *
 * Y(ω) = jωC + G + D/(1 + jωτ), hence Im Y/ω = C − Dτ/(1 + ω²τ²): the three frequencies give C, Dτ and τ,
 * then Re Y at the first gives G. One RC or LR filter stage is met exactly; more stages to the extent that
 * they look like one, which is what the ripple leaves of them.
 *
 * @param admittanceAt Conductance and susceptance, in siemens (S), at a frequency in hertz (Hz).
 * @param hertz Ripple frequency.
 */
export function fitRippleLoad(
  admittanceAt: (hertz: number) => readonly [number, number],
  hertz: number,
): RippleLoad {
  const turn = 2 * Math.PI * hertz;
  const [siemens, susceptance] = admittanceAt(hertz);
  const first = susceptance / turn;
  const second = admittanceAt(2 * hertz)[1] / (2 * turn);
  const far = admittanceAt(farHarmonic * hertz)[1] / (farHarmonic * turn);
  const plain = { farads: first, siemens, branch: null };
  let farads = far;
  let square = 0;
  let product = 0;
  for (let round = 0; round < 4; round++) {
    const [rest, restSecond] = [farads - first, farads - second];
    if (Math.abs(rest) < leastChange * Math.abs(farads) || rest * restSecond <= 0) return plain;
    // (1 + 4q)/(1 + q) = ratio.
    const ratio = rest / restSecond;
    if (ratio <= 1) return plain;
    square = ratio < 4 ? Math.min(slowestSquare, (ratio - 1) / (4 - ratio)) : slowestSquare;
    product = rest * (1 + square);
    farads = far + product / (1 + farHarmonic * farHarmonic * square);
  }
  if (!(square > fastestSquare) || !(farads > 0)) return plain;
  const seconds = Math.sqrt(square) / turn;
  const late = product / seconds;
  return { farads, siemens: siemens - late / (1 + square), branch: { siemens: late, seconds } };
}
