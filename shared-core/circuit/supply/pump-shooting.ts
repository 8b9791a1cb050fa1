import { averagePhase } from './averaged-current.ts';
import { Crest, Range } from './crest.ts';
import type { TimeProblem } from '../../numerics/runge-kutta.ts';
import { integratePeriod } from './mains-period.ts';
import { findPeriodicStart } from './periodic-state.ts';
import { kneeVolts, lawNumbers, type PhaseCurve, phaseCurrent } from './rectifier-law.ts';
import type { RippleLoad } from './ripple-load.ts';
import type { PhaseWaveform, SupplyWaveform } from './waveform.ts';

/** A series capacitor, two like rectifiers and a reservoir. */
export interface PumpSource {
  /** Winding and one rectifier: both rectifiers see the same. */
  readonly curve: PhaseCurve;
  readonly hertz: number;
  /** The series capacitor, in farads (F). */
  readonly pumpFarads: number;
}

/** A charge pump at work. */
export interface PumpProblem extends PumpSource {
  readonly load: RippleLoad;
  /** Mean current, in amperes (A). */
  readonly amps: number;
}

const meanOut = new Float64Array(2);

/**
 * Mean current of a charge pump at a steady output voltage.
 *
 * Each rectifier takes the averaged characteristic x(I) of a half-wave supply; the series capacitor gives
 * up I/(f·C) in each cycle: V = 2·x(I) − I/(f·C). Solved by Newton from the left, where the curve is concave.
 *
 * @param volts In volts (V).
 * @param out Mean amperes (A) and, after it, dI/dV in siemens (S), negative.
 */
export function averagePump(
  { curve, hertz, pumpFarads }: PumpSource,
  volts: number,
  out: Float64Array,
): void {
  out[0] = 0;
  out[1] = 0;
  if (curve.law === lawNumbers.none) return;
  // Past twice the crest only a junction's leakage is left.
  if (curve.law !== lawNumbers.semiconductor && volts >= 2 * curve.emfVolts) return;
  const perAmp = 1 / (hertz * pumpFarads);
  const held = Math.max(0, volts);
  let x = 0;
  for (let round = 0; round < 100; round++) {
    averagePhase(curve, x, meanOut);
    const slope = 2 - meanOut[1]! * perAmp;
    const step = (held + meanOut[0]! * perAmp - 2 * x) / slope;
    x += step;
    // With the last step's own share: what is left is of second order.
    out[0] = meanOut[0]! + meanOut[1]! * step;
    out[1] = meanOut[1]! / slope;
    if (Math.abs(step) <= 1e-13 * curve.emfVolts) break;
  }
  if (volts < 0) out[0]! += out[1]! * volts;
}

/** Where a period begins: series capacitor, reservoir and late branch, in volts (V), and the load's constant part, in amperes (A). */
export type PumpStart = Float64Array;

/** Local error of one step, relative to the crest. */
const stepTolerance = 1e-10;
const mostSteps = 60000;

/** The periodic steady state, by shooting on both capacitors. */
export function findPumpStart(problem: PumpProblem, guess: PumpStart): PumpStart | null {
  const { load, amps, curve, hertz } = problem;
  if (!(load.farads > 0) || !(amps > 0)) return null;
  const period = 1 / hertz;
  const late = load.branch?.siemens ?? 0;
  const shot = makeShot(problem);
  const state = new Float64Array(4);
  const top = curve.emfVolts;
  return findPeriodicStart(
    {
      scales: Float64Array.of(top, 2 * top, 2 * top, Math.max(amps, 2 * top * Math.abs(load.siemens + late))),
      run(start, gaps) {
        state.set([start[0]!, start[1]!, start[2]!, 0]);
        shot.constant = start[3]!;
        if (!integratePeriod(shot, state, period)) return false;
        gaps[0] = state[0]! - start[0]!;
        gaps[1] = state[1]! - start[1]!;
        gaps[2] = load.branch ? state[2]! - start[2]! : start[2]!;
        gaps[3] = start[3]! + (load.siemens + late) * (state[3]! / period) - amps;
        return true;
      },
    },
    guess,
  );
}

interface PumpShot extends TimeProblem {
  /** Load current at 0 V, in amperes (A). */
  constant: number;
}

const currentOut = new Float64Array(2);

function makeShot({ curve, hertz, pumpFarads, load }: PumpProblem): PumpShot {
  const turn = 2 * Math.PI * hertz;
  const top = curve.emfVolts;
  const period = 1 / hertz;
  const knee = kneeVolts(curve);
  const late = load.branch?.siemens ?? 0;
  const rate = load.branch ? 1 / load.branch.seconds : 0;
  const fine = stepTolerance * top;
  const shot: PumpShot = {
    constant: 0,
    maxStep: period / 40,
    maxSteps: mostSteps,
    tolerances: Float64Array.of(fine, fine, fine, fine * period),
    switches: {
      count: 2,
      tolerance: 1e-12 * top,
      at(time, state, values) {
        const emf = top * Math.sin(turn * time) + state[0]!;
        values[0] = -emf - knee;
        values[1] = emf - state[1]! - knee;
      },
    },
    slopesAt(time, state, slopes) {
      const emf = top * Math.sin(turn * time) + state[0]!;
      phaseCurrent(curve, -emf, currentOut);
      const into = currentOut[0]!;
      phaseCurrent(curve, emf - state[1]!, currentOut);
      const out = currentOut[0]!;
      slopes[0] = (into - out) / pumpFarads;
      slopes[1] = (out - shot.constant - load.siemens * state[1]! - late * state[2]!) / load.farads;
      slopes[2] = rate * (state[1]! - state[2]!);
      slopes[3] = state[1]!;
    },
  };
  return shot;
}

/** Runs once more over the period and gathers the figures; null where the run failed. */
export function collectPumpWaveform(problem: PumpProblem, start: PumpStart): SupplyWaveform | null {
  const { curve, hertz, amps, load } = problem;
  const period = 1 / hertz;
  const turn = 2 * Math.PI * hertz;
  const shot = makeShot(problem);
  shot.constant = start[3]!;
  const steady = load.siemens + (load.branch?.siemens ?? 0);
  const mean = steady !== 0 ? (amps - start[3]!) / steady : start[1]!;
  // v1, v2, w, ∫v2, ∫(v2 − mean)², then per rectifier ∫i, ∫i², ∫i·sin: the second one first.
  const state = new Float64Array(11);
  state.set([start[0]!, start[1]!, start[2]!]);
  const range = new Range(state[1]!);
  const peaks = [new Crest(), new Crest()] as const;
  const base = new Float64Array(4);
  const isDone = integratePeriod(
    {
      ...shot,
      maxStep: period / 200,
      slopesAt(time, now, slopes) {
        shot.slopesAt(time, now, base);
        slopes.set(base);
        slopes[4] = (now[1]! - mean) ** 2;
        const sine = Math.sin(turn * time);
        const emf = curve.emfVolts * sine + now[0]!;
        for (let index = 0; index < 2; index++) {
          phaseCurrent(curve, index === 0 ? emf - now[1]! : -emf, currentOut);
          slopes[5 + 3 * index] = currentOut[0]!;
          slopes[6 + 3 * index] = currentOut[0]! ** 2;
          slopes[7 + 3 * index] = currentOut[0]! * (index === 0 ? sine : -sine);
        }
      },
      onStep(from, to, before, beforeSlopes, after, afterSlopes) {
        range.add(to - from, before[1]!, beforeSlopes[1]!, after[1]!, afterSlopes[1]!);
        for (const index of [0, 1] as const) peaks[index].add(to, afterSlopes[5 + 3 * index]!);
      },
    },
    state,
    period,
  );
  if (!isDone) return null;
  const figures = [0, 1].map((index): PhaseWaveform => ({
    meanAmps: state[5 + 3 * index]! / period,
    peakAmps: peaks[index]!.peak,
    rmsAmps: Math.sqrt(Math.max(0, state[6 + 3 * index]! / period)),
    sineAmps: state[7 + 3 * index]! / period,
  }));
  return {
    meanVolts: state[3]! / period,
    startVolts: start[1]!,
    startLateVolts: start[2]!,
    minimumVolts: range.low,
    maximumVolts: range.high,
    rippleVolts: range.high - range.low,
    rippleVoltsRms: Math.sqrt(Math.max(0, state[4]! / period)),
    loadAmps: amps,
    reservoirAmpsRms: Math.sqrt(Math.max(0, figures[0]!.rmsAmps ** 2 - amps * amps)),
    phases: [figures[0]!, figures[1]!],
  };
}
