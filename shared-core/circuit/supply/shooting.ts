import type { TimeProblem } from '../../numerics/runge-kutta.ts';
import { factorise, solveFactorised } from '../../numerics/dense.ts';
import { averagePhase } from './averaged-current.ts';
import { conductionSwitches, integratePeriod } from './mains-period.ts';
import { phaseCurrent } from './rectifier-law.ts';
import type { LoadBranch, ShootingProblem } from './shooting-problem.ts';
import { collectWaveform, type SupplyWaveform } from './waveform.ts';

export type ShootingResult = { readonly ok: true; readonly waveform: SupplyWaveform } | ShootingFailure;

export interface ShootingFailure {
  readonly ok: false;
  readonly reason: 'no-capacitance' | 'too-many-steps' | 'not-periodic';
}

/** Where a period begins and what its mean is. */
export interface PeriodicStart {
  readonly ok: true;
  /** Voltage, voltage of the late branch, in volts (V), and the load's constant part, in amperes (A). */
  readonly unknown: Float64Array;
  readonly meanVolts: number;
  readonly branch: LoadBranch | null;
  readonly shot: TimeProblem;
}

/** Local error of the voltage in one step, relative to the highest EMF. */
const stepTolerance = 2e-11;
/**
 * Periodic to this before the last step, relative to the highest EMF. That step is taken as well, of start and
 * mean: Newton's method squares what is left, to some 1e-12.
 */
const periodTolerance = 1e-7;
/** Steps tried in one period. A supply takes 150 to 500; the rest is for tiny reservoirs. */
const mostSteps = 20000;
const mostRounds = 25;
/** Longest Newton step, as a share of the highest EMF: near the peak the slope all but vanishes. */
const longestMove = 0.3;

/**
 * The periodic steady state of a reservoir fed by rectifiers, by shooting: its start and its mean.
 *
 * C·dv/dt = Σ i_k(e_k(t) − v) − load(v) over one mains period, with the sensitivities of the end to the
 * start (and, where only the mean current is given, to the load's constant part) integrated alongside;
 * Newton's method on v(T) = v(0). See T. J. Aprille and T. N. Trick, Proc. IEEE 60 (1972) 108–114.
 *
 * @param guessVolts Where to start, in volts (V): the mean of the averaged characteristic will do.
 */
export function findPeriodicMean(
  problem: ShootingProblem,
  guessVolts?: number,
): PeriodicStart | ShootingFailure {
  const { phases, farads, hertz, load } = problem;
  if (!(farads > 0)) return { ok: false, reason: 'no-capacitance' };
  const top = Math.max(phases[0].emfVolts, phases[1].emfVolts);
  const period = 1 / hertz;
  const branch = load.kind === 'mean' ? (load.branch ?? null) : null;
  // Conductance of the load to a steady voltage; the constant part is unknown only where the mean is given.
  const steady = load.siemens + (branch?.siemens ?? 0);
  const isMean = load.kind === 'mean' && (steady !== 0 || branch !== null);
  // Above the peak nothing conducts, and nothing says where to go.
  const start = Math.min(top, guessVolts ?? guessMean(problem, top));
  const held = load.kind === 'line' ? load.siemens * load.volts : isMean ? steady * start : 0;
  const unknown = Float64Array.of(start, branch ? start : 0, load.amps - held);
  const state = new Float64Array(12);
  const shot = makeShot(problem, branch, top);
  for (let round = 0; round < mostRounds; round++) {
    startState(state, unknown);
    shot.constant = unknown[2]!;
    if (!integratePeriod(shot, state, period)) return { ok: false, reason: 'too-many-steps' };
    const gap = state[0]! - unknown[0]!;
    const lag = branch ? state[1]! - unknown[1]! : 0;
    const lack = isMean ? unknown[2]! + steady * (state[8]! / period) - load.amps : 0;
    const share = isMean ? steady / period : 0;
    const matrix = Float64Array.of(
      ...[state[2]! - 1, state[4]!, isMean ? state[6]! : 0],
      ...(branch ? [state[3]!, state[5]! - 1, isMean ? state[7]! : 0] : [0, 1, 0]),
      ...[share * state[9]!, share * state[10]!, 1 + share * state[11]!],
    );
    const isPeriodic =
      Math.max(Math.abs(gap), Math.abs(lag)) < periodTolerance * top &&
      Math.abs(lack) < 1e-6 * Math.abs(load.amps) + 1e-15;
    const move = newtonMove(matrix, Float64Array.of(-gap, -lag, -lack));
    if (!move) return { ok: false, reason: 'not-periodic' };
    const shorten = Math.min(1, (longestMove * top) / Math.abs(move[0]!));
    for (let index = 0; index < 3; index++) unknown[index]! += shorten * move[index]!;
    unknown[0] = Math.min(top, unknown[0]!);
    if (isPeriodic) {
      // A slow reservoir turns a small gap into a larger error: the last step is still taken.
      const shift = state[9]! * move[0]! + state[10]! * move[1]! + state[11]! * move[2]!;
      return { ok: true, unknown, meanVolts: (state[8]! + shift) / period, branch, shot };
    }
  }
  return { ok: false, reason: 'not-periodic' };
}

/**
 * The periodic steady state with all its figures: `findPeriodicMean`, and one period more.
 *
 * @param guessVolts Where to start, in volts (V).
 */
export function findPeriodicState(problem: ShootingProblem, guessVolts?: number): ShootingResult {
  const found = findPeriodicMean(problem, guessVolts);
  if (!found.ok) return found;
  const waveform = collectWaveform(problem, found.unknown, found.meanVolts, found.branch, found.shot);
  return waveform ? { ok: true, waveform } : { ok: false, reason: 'too-many-steps' };
}

/** Unknowns into the state at the start of a period; sensitivities to themselves are 1. */
function startState(state: Float64Array, unknown: Float64Array): void {
  state.fill(0);
  state[0] = unknown[0]!;
  state[1] = unknown[1]!;
  state[2] = 1;
  state[5] = 1;
}

/** One Newton step; null where the matrix is singular. */
function newtonMove(matrix: Float64Array, right: Float64Array): Float64Array | null {
  const order = new Int32Array(3);
  const move = new Float64Array(3);
  if (factorise(matrix, 3, order, new Float64Array(3)) >= 0) return null;
  solveFactorised(matrix, 3, order, right, move);
  return move.every((value) => Math.abs(value) < Infinity) ? move : null;
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
interface Shot extends TimeProblem {
  /** Load current at 0 V, in amperes (A). */
  constant: number;
}

/**
 * State: v and the branch's w; both by v(0), by w(0) and by the load's constant part; the integrals over
 * time of v and of its three sensitivities.
 */
function makeShot(
  { phases, farads, hertz, load }: ShootingProblem,
  branch: LoadBranch | null,
  top: number,
): Shot {
  const [first, second] = phases;
  const turn = 2 * Math.PI * hertz;
  const out = new Float64Array(2);
  const period = 1 / hertz;
  const late = branch?.siemens ?? 0;
  const rate = branch ? 1 / branch.seconds : 0;
  const fine = stepTolerance * top;
  const perAmp = (1e-6 * period) / farads;
  const shot: Shot = {
    constant: 0,
    maxStep: period / 40,
    maxSteps: mostSteps,
    switches: conductionSwitches([first, second], hertz, top),
    tolerances: Float64Array.of(fine, fine, 1e-6, 1e-6, 1e-6, 1e-6, perAmp, perAmp, fine * period),
    slopesAt(time, state, slopes) {
      const volts = state[0]!;
      const sine = Math.sin(turn * time);
      phaseCurrent(first, first.emfVolts * sine - volts, out);
      let amps = out[0]!;
      let conductance = load.siemens + out[1]!;
      phaseCurrent(second, -second.emfVolts * sine - volts, out);
      amps += out[0]!;
      conductance += out[1]!;
      slopes[0] = (amps - shot.constant - load.siemens * volts - late * state[1]!) / farads;
      slopes[1] = rate * (volts - state[1]!);
      for (let by = 2; by < 8; by += 2) {
        const source = by === 6 ? -1 : 0;
        slopes[by] = (source - conductance * state[by]! - late * state[by + 1]!) / farads;
        slopes[by + 1] = rate * (state[by]! - state[by + 1]!);
        slopes[8 + by / 2] = state[by]!;
      }
      slopes[8] = volts;
    },
  };
  return shot;
}
