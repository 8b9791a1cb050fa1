import type { TimeProblem } from '../../numerics/runge-kutta.ts';
import { averagePhase } from './averaged-current.ts';
import { conductionSwitches, integratePeriod } from './mains-period.ts';
import { phaseCurrent } from './rectifier-law.ts';
import type { ShootingProblem } from './shooting-problem.ts';
import { collectWaveform, type SupplyWaveform } from './waveform.ts';

export type ShootingResult =
  | { readonly ok: true; readonly waveform: SupplyWaveform }
  | { readonly ok: false; readonly reason: 'no-capacitance' | 'too-many-steps' | 'not-periodic' };

/** Local error of the voltage in one step, relative to the highest EMF. */
const stepTolerance = 2e-11;
/** Periodic to this, relative to the highest EMF. */
const periodTolerance = 1e-10;
/** Steps tried in one period. A supply takes 150 to 500; the rest is for tiny reservoirs. */
const mostSteps = 20000;
const mostRounds = 25;
/** Longest Newton step, as a share of the highest EMF: near the peak the slope all but vanishes. */
const longestMove = 0.3;

/**
 * The periodic steady state of a reservoir fed by rectifiers, by shooting.
 *
 * C·dv/dt = Σ i_k(e_k(t) − v) − load(v) over one mains period, with the sensitivities of the end to the
 * start (and, where only the mean current is given, to the load's constant part) integrated alongside;
 * Newton's method on v(T) = v(0). See T. J. Aprille and T. N. Trick, Proc. IEEE 60 (1972) 108–114.
 *
 * @param guessVolts Where to start, in volts (V): the mean of the averaged characteristic will do.
 */
export function findPeriodicState(problem: ShootingProblem, guessVolts?: number): ShootingResult {
  const { phases, farads, hertz, load } = problem;
  if (!(farads > 0)) return { ok: false, reason: 'no-capacitance' };
  const top = Math.max(phases[0].emfVolts, phases[1].emfVolts);
  const period = 1 / hertz;
  const isMean = load.kind === 'mean' && load.siemens !== 0;
  const siemens = load.siemens;
  // Above the peak nothing conducts, and nothing says where to go.
  let start = Math.min(top, guessVolts ?? guessMean(problem, top));
  let constant = load.amps - (load.kind === 'line' ? siemens * load.volts : isMean ? siemens * start : 0);
  const state = new Float64Array(6);
  const shot = makeShot(problem, top);
  for (let round = 0; round < mostRounds; round++) {
    state.fill(0);
    state[0] = start;
    state[1] = 1;
    shot.constant = constant;
    if (!integratePeriod(shot, state, period)) return { ok: false, reason: 'too-many-steps' };
    const gap = state[0]! - start;
    const lack = isMean ? constant + siemens * (state[3]! / period) - load.amps : 0;
    if (Math.abs(gap) < periodTolerance * top && Math.abs(lack) < 1e-9 * Math.abs(load.amps) + 1e-15) {
      const waveform = collectWaveform(problem, start, state[3]! / period, constant, shot);
      return waveform ? { ok: true, waveform } : { ok: false, reason: 'too-many-steps' };
    }
    // [s−1, z; G·∫s/T, 1+G·∫z/T]·[Δstart; Δconstant] = −[gap; lack]
    const [a, b] = [state[1]! - 1, isMean ? state[2]! : 0];
    const [c, d] = isMean ? [(siemens * state[4]!) / period, 1 + (siemens * state[5]!) / period] : [0, 1];
    const determinant = a * d - b * c;
    if (!(Math.abs(determinant) > 1e-14)) return { ok: false, reason: 'not-periodic' };
    const move = (-gap * d + lack * b) / determinant;
    start = Math.min(top, start + Math.min(longestMove * top, Math.max(-longestMove * top, move)));
    constant += (-lack * a + gap * c) / determinant;
  }
  return { ok: false, reason: 'not-periodic' };
}

/** Mean voltage of the averaged characteristic under the load: a start for the shooting. */
function guessMean(problem: ShootingProblem, top: number): number {
  const { load, phases } = problem;
  const out = new Float64Array(2);
  let [low, high] = [0, top];
  for (let round = 0; round < 40; round++) {
    const volts = (low + high) / 2;
    let amps = load.kind === 'mean' ? -load.amps : -load.amps - load.siemens * (volts - load.volts);
    for (const phase of phases) {
      averagePhase(phase, volts, out);
      amps += out[0]!;
    }
    if (amps > 0) low = volts;
    else high = volts;
  }
  return low;
}

/** A run over one period: the load's constant part changes between runs. */
export interface Shot extends TimeProblem {
  /** Load current at 0 V, in amperes (A). */
  constant: number;
}

/** State: v, dv/dv(0), dv/d(constant) and the integrals of the three over time. */
function makeShot({ phases, farads, hertz, load }: ShootingProblem, top: number): Shot {
  const [first, second] = phases;
  const turn = 2 * Math.PI * hertz;
  const out = new Float64Array(2);
  const period = 1 / hertz;
  const shot: Shot = {
    constant: 0,
    maxStep: period / 40,
    maxSteps: mostSteps,
    switches: conductionSwitches([first, second], hertz, top),
    tolerances: Float64Array.of(
      stepTolerance * top,
      1e-6,
      (1e-6 * period) / farads,
      stepTolerance * top * period,
    ),
    slopesAt(time, state, slopes) {
      const volts = state[0]!;
      const sine = Math.sin(turn * time);
      phaseCurrent(first, first.emfVolts * sine - volts, out);
      let amps = out[0]!;
      let conductance = load.siemens + out[1]!;
      phaseCurrent(second, -second.emfVolts * sine - volts, out);
      amps += out[0]!;
      conductance += out[1]!;
      slopes[0] = (amps - shot.constant - load.siemens * volts) / farads;
      slopes[1] = (-conductance * state[1]!) / farads;
      slopes[2] = (-conductance * state[2]! - 1) / farads;
      slopes[3] = volts;
      slopes[4] = state[1]!;
      slopes[5] = state[2]!;
    },
  };
  return shot;
}
