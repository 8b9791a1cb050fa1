import type { TimeProblem } from '../../numerics/runge-kutta.ts';
import { Crest, Range } from './crest.ts';
import { conductionSwitches, integratePeriod } from './mains-period.ts';
import { findPeriodicStart } from './periodic-state.ts';
import { type PhaseCurve, phaseCurrent } from './rectifier-law.ts';
import type { RippleLoad } from './ripple-load.ts';
import type { PhaseWaveform, SupplyWaveform } from './waveform.ts';

/** Two reservoirs in series, each charged on its own half of the cycle. */
export interface DoublerProblem {
  /** Upper and lower rectifier. */
  readonly phases: readonly [PhaseCurve, PhaseCurve];
  readonly hertz: number;
  /** Upper and lower reservoir, in farads (F). */
  readonly farads: readonly [number, number];
  /** What stands across both at the ripple frequency; `farads` without the two reservoirs. */
  readonly load: RippleLoad;
  /** Mean current of each half, in amperes (A). */
  readonly amps: readonly [number, number];
}

/** Where a period begins: upper, lower and late branch of the load, then the mean of the whole; in volts (V). */
export type DoublerStart = Float64Array;

/** Local error of one step, relative to the crest. */
const stepTolerance = 1e-10;
const mostSteps = 20000;

/** The periodic steady state of a full-wave doubler, by shooting on both reservoirs together. */
export function findDoublerStart(problem: DoublerProblem, guess: DoublerStart): DoublerStart | null {
  const { phases, farads, amps, hertz, load } = problem;
  if (!(Math.min(...farads) > 0) || !(Math.max(...amps) > 0)) return null;
  const top = Math.max(phases[0].emfVolts, phases[1].emfVolts);
  const period = 1 / hertz;
  const shot = makeShot(problem, top);
  const state = new Float64Array(5);
  return findPeriodicStart(
    {
      scales: Float64Array.of(top, top, 2 * top, 2 * top),
      run(start, gaps) {
        state.set([start[0]!, start[1]!, start[2]!, 0, 0]);
        shot.mean = start[3]!;
        if (!integratePeriod(shot, state, period)) return false;
        gaps[0] = state[0]! - start[0]!;
        gaps[1] = state[1]! - start[1]!;
        gaps[2] = load.branch ? state[2]! - start[2]! : start[2]!;
        gaps[3] = (state[3]! + state[4]!) / period - start[3]!;
        return true;
      },
    },
    guess,
  );
}

interface DoublerShot extends TimeProblem {
  /** Mean of the whole, in volts (V). */
  mean: number;
}

const currentOut = new Float64Array(2);

/** State: upper and lower voltage, late branch, integrals of the two voltages. */
function makeShot(problem: DoublerProblem, top: number): DoublerShot {
  const { phases, hertz, farads, load, amps } = problem;
  const turn = 2 * Math.PI * hertz;
  const period = 1 / hertz;
  const late = load.branch?.siemens ?? 0;
  const rate = load.branch ? 1 / load.branch.seconds : 0;
  const fine = stepTolerance * top;
  const across = Math.max(0, load.farads);
  const [upper, lower] = [farads[0] + across, farads[1] + across];
  const spread = upper * lower - across * across;
  const one = conductionSwitches([phases[0], phases[1]], hertz, top)!;
  const shot: DoublerShot = {
    mean: 0,
    maxStep: period / 40,
    maxSteps: mostSteps,
    tolerances: Float64Array.of(fine, fine, fine, fine * period, fine * period),
    switches: {
      ...one,
      at(time, state, values) {
        one.at(time, state, values);
        values[1]! += state[0]! - state[1]!;
      },
    },
    slopesAt(time, state, slopes) {
      const sine = Math.sin(turn * time);
      const drawn =
        load.siemens * (state[0]! + state[1]! - shot.mean) +
        (late === 0 ? 0 : late * (state[2]! - shot.mean));
      phaseCurrent(phases[0], phases[0].emfVolts * sine - state[0]!, currentOut);
      const first = currentOut[0]! - amps[0] - drawn;
      phaseCurrent(phases[1], -phases[1].emfVolts * sine - state[1]!, currentOut);
      const second = currentOut[0]! - amps[1] - drawn;
      slopes[0] = (lower * first - across * second) / spread;
      slopes[1] = (upper * second - across * first) / spread;
      slopes[2] = rate * (state[0]! + state[1]! - state[2]!);
      slopes[3] = state[0]!;
      slopes[4] = state[1]!;
    },
  };
  return shot;
}

/** A full-wave doubler's figures; those of the whole, and the mean of each half. */
export interface DoublerWaveform extends SupplyWaveform {
  /** Mean of the upper and the lower half, in volts (V). */
  readonly halfVolts: readonly [number, number];
  /** Highest voltage of each half, in volts (V). */
  readonly halfPeaks: readonly [number, number];
}

/** Runs once more over the period and gathers the figures; null where the run failed. */
export function collectDoublerWaveform(problem: DoublerProblem, start: DoublerStart): DoublerWaveform | null {
  const { phases, hertz, amps } = problem;
  const top = Math.max(phases[0].emfVolts, phases[1].emfVolts);
  const period = 1 / hertz;
  const turn = 2 * Math.PI * hertz;
  const shot = makeShot(problem, top);
  shot.mean = start[3]!;
  // v1, v2, w, ∫v1, ∫v2, ∫(v1 + v2 − mean)², then per rectifier ∫i, ∫i², ∫i·sin.
  const state = new Float64Array(12);
  state.set([start[0]!, start[1]!, start[2]!]);
  const range = new Range(start[0]! + start[1]!);
  const halves = [new Range(start[0]!), new Range(start[1]!)] as const;
  const peaks = [new Crest(), new Crest()] as const;
  const base = new Float64Array(5);
  const isDone = integratePeriod(
    {
      ...shot,
      maxStep: period / 200,
      slopesAt(time, now, slopes) {
        shot.slopesAt(time, now, base);
        slopes.set(base);
        slopes[5] = (now[0]! + now[1]! - start[3]!) ** 2;
        const sine = Math.sin(turn * time);
        for (const index of [0, 1] as const) {
          const own = index === 0 ? sine : -sine;
          phaseCurrent(phases[index], phases[index].emfVolts * own - now[index]!, currentOut);
          slopes[6 + 3 * index] = currentOut[0]!;
          slopes[7 + 3 * index] = currentOut[0]! ** 2;
          slopes[8 + 3 * index] = currentOut[0]! * own;
        }
      },
      onStep(from, to, before, beforeSlopes, after, afterSlopes) {
        const length = to - from;
        range.add(
          length,
          before[0]! + before[1]!,
          beforeSlopes[0]! + beforeSlopes[1]!,
          after[0]! + after[1]!,
          afterSlopes[0]! + afterSlopes[1]!,
        );
        for (const index of [0, 1] as const) {
          halves[index].add(length, before[index]!, beforeSlopes[index]!, after[index]!, afterSlopes[index]!);
          peaks[index].add(to, afterSlopes[6 + 3 * index]!);
        }
      },
    },
    state,
    period,
  );
  if (!isDone) return null;
  const figures = [0, 1].map((index): PhaseWaveform => ({
    meanAmps: state[6 + 3 * index]! / period,
    peakAmps: peaks[index]!.peak,
    rmsAmps: Math.sqrt(Math.max(0, state[7 + 3 * index]! / period)),
    sineAmps: state[8 + 3 * index]! / period,
  }));
  return {
    meanVolts: (state[3]! + state[4]!) / period,
    startVolts: start[0]! + start[1]!,
    startLateVolts: start[2]!,
    minimumVolts: range.low,
    maximumVolts: range.high,
    rippleVolts: range.high - range.low,
    rippleVoltsRms: Math.sqrt(Math.max(0, state[5]! / period)),
    loadAmps: Math.max(...amps),
    reservoirAmpsRms: Math.sqrt(
      Math.max(0, ...figures.map(({ rmsAmps }, index) => rmsAmps ** 2 - amps[index as 0 | 1] ** 2)),
    ),
    phases: [figures[0]!, figures[1]!],
    halfVolts: [state[3]! / period, state[4]! / period],
    halfPeaks: [halves[0].high, halves[1].high],
  };
}
