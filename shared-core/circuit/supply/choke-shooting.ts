import type { TimeProblem } from '../../numerics/runge-kutta.ts';
import { type ChokeSource, phaseDrop } from './choke-law.ts';
import { Crest, Range } from './crest.ts';
import { integratePeriod } from './mains-period.ts';
import { findPeriodicStart } from './periodic-state.ts';
import { lawNumbers, phaseCurrent } from './rectifier-law.ts';
import { HarmonicSums, type RippleHarmonic } from './ripple-harmonics.ts';
import type { PhaseWaveform, SupplyWaveform } from './waveform.ts';

/** A choke-input supply at work. */
export interface ChokeProblem extends ChokeSource {
  /** Copper of the choke, in ohms (Ω). */
  readonly chokeOhms: number;
  /** What stands behind the choke at the ripple frequency, in farads (F) and siemens (S). */
  readonly farads: number;
  readonly siemens: number;
  /** Mean current, in amperes (A). */
  readonly amps: number;
}

/** Where a period begins: choke current, in amperes (A), voltage behind the choke and its mean, in volts (V). */
export type ChokeStart = Float64Array;

/** Local error of one step, relative to the crest and to the mean current. */
const stepTolerance = 1e-10;
/** A choke current below this share of the scale has ceased. */
const ceasedShare = 1e-9;
const mostSteps = 20000;
/** To 500 Hz or 600 Hz: what a choke leaves above does not count. */
const harmonicsOfChoke = 10;

/**
 * The periodic steady state of a choke-input supply, by shooting on the choke's current and the voltage
 * behind it.
 *
 * L·di/dt = x − r·i − v with x, the voltage before the choke, such that the phases give just i; no phase
 * conducts while i = 0 and v stands above both EMFs. C·dv/dt = i − I − G·(v − mean).
 */
export function findChokeStart(problem: ChokeProblem, guess: ChokeStart): ChokeStart | null {
  if (!(problem.farads > 0) || !(problem.amps > 0)) return null;
  const { phases, amps, hertz } = problem;
  const top = Math.max(phases[0].emfVolts, phases[1].emfVolts);
  const period = 1 / hertz;
  const shot = makeShot(problem, top);
  const state = new Float64Array(3);
  return findPeriodicStart(
    {
      scales: Float64Array.of(amps, top, top),
      run(start, gaps) {
        state[0] = Math.max(0, start[0]!);
        state[1] = start[1]!;
        state[2] = 0;
        shot.mean = start[2]!;
        if (!integratePeriod(shot, state, period)) return false;
        gaps[0] = state[0]! - start[0]!;
        gaps[1] = state[1]! - start[1]!;
        gaps[2] = state[2]! / period - start[2]!;
        return true;
      },
    },
    guess,
  );
}

interface ChokeShot extends TimeProblem {
  /** Mean voltage behind the choke, in volts (V). */
  mean: number;
}

const currentOut = new Float64Array(2);

/** Voltage before the choke at which the phases give a current, in volts (V). */
function voltsBefore({ phases }: ChokeProblem, sine: number, amps: number): number {
  const [first, second] = phases;
  const lead =
    second.law === lawNumbers.none || (sine >= 0 && first.law !== lawNumbers.none) ? first : second;
  const other = lead === first ? second : first;
  const own = lead === first ? sine : -sine;
  phaseDrop(lead, amps, currentOut);
  let volts = lead.emfVolts * own - currentOut[0]!;
  if (other.law === lawNumbers.none) return volts;
  const emf = -other.emfVolts * own;
  const floor = Math.max(lead.emfVolts * own, emf);
  if (!(amps > 0)) return floor;
  // Near the zero of the mains both conduct; the sum is convex and falls with the voltage.
  for (let round = 0; round < 50; round++) {
    phaseCurrent(lead, lead.emfVolts * own - volts, currentOut);
    const [one, slope] = [currentOut[0]!, currentOut[1]!];
    phaseCurrent(other, emf - volts, currentOut);
    const step = (one + currentOut[0]! - amps) / (slope + currentOut[1]!);
    volts += step;
    if (!(Math.abs(step) > 1e-13 * lead.emfVolts)) break;
  }
  return volts;
}

function makeShot(problem: ChokeProblem, top: number): ChokeShot {
  const { phases, hertz, henries, chokeOhms, farads, siemens, amps } = problem;
  const turn = 2 * Math.PI * hertz;
  const period = 1 / hertz;
  const [first, second] = phases;
  const crestOf = (sine: number): number =>
    Math.max(
      first.law === lawNumbers.none ? -top : first.emfVolts * sine,
      second.law === lawNumbers.none ? -top : -second.emfVolts * sine,
    );
  const shot: ChokeShot = {
    mean: 0,
    maxStep: period / 40,
    maxSteps: mostSteps,
    tolerances: Float64Array.of(stepTolerance * amps, stepTolerance * top, stepTolerance * top * period),
    switches: {
      count: 2,
      tolerance: 1e-12 * top,
      at(time, state, values) {
        values[0] = ((state[0]! - 0.5 * ceasedShare * amps) / amps) * top;
        values[1] = state[0]! > ceasedShare * amps ? 0 : crestOf(Math.sin(turn * time)) - state[1]!;
      },
    },
    slopesAt(time, state, slopes) {
      const sine = Math.sin(turn * time);
      const current = Math.max(0, state[0]!);
      const volts = state[1]!;
      const isCut = state[0]! <= ceasedShare * amps && crestOf(sine) <= volts;
      slopes[0] = isCut ? 0 : (voltsBefore(problem, sine, current) - chokeOhms * current - volts) / henries;
      slopes[1] = (current - amps - siemens * (volts - shot.mean)) / farads;
      slopes[2] = volts;
    },
  };
  return shot;
}

/** A choke-input supply's figures, with those of the choke. */
export interface ChokeWaveform extends SupplyWaveform {
  /** Lowest and highest choke current, in amperes (A): 0 where it ceases in every half cycle. */
  readonly chokeAmps: readonly [number, number];
  /** Choke current where the first phase's EMF rises through zero, in amperes (A). */
  readonly startAmps: number;
  /** The first ten harmonics of the ripple behind the choke, from the mains frequency up. */
  readonly harmonics: readonly RippleHarmonic[];
}

/** Runs once more over the period and gathers the figures; null where the run failed. */
export function collectChokeWaveform(problem: ChokeProblem, start: ChokeStart): ChokeWaveform | null {
  const { phases, hertz, amps } = problem;
  const top = Math.max(phases[0].emfVolts, phases[1].emfVolts);
  const period = 1 / hertz;
  const turn = 2 * Math.PI * hertz;
  const shot = makeShot(problem, top);
  shot.mean = start[2]!;
  // i, v, ∫v, ∫(v − mean)², ∫(i − I)², then per phase ∫i, ∫i², ∫i·sin.
  const state = new Float64Array(11);
  state[0] = start[0]!;
  state[1] = start[1]!;
  const [choke, range] = [new Range(state[0]), new Range(state[1])];
  const peaks = [new Crest(), new Crest()] as const;
  const sums = new HarmonicSums(hertz, start[2]!, harmonicsOfChoke);
  const base = new Float64Array(3);
  const isDone = integratePeriod(
    {
      ...shot,
      maxStep: period / 200,
      slopesAt(time, now, slopes) {
        shot.slopesAt(time, now, base);
        slopes.set(base);
        slopes[3] = (now[1]! - start[2]!) ** 2;
        slopes[4] = (now[0]! - amps) ** 2;
        const sine = Math.sin(turn * time);
        const before = now[0]! > ceasedShare * amps ? voltsBefore(problem, sine, now[0]!) : top;
        for (let index = 0; index < 2; index++) {
          const own = index === 0 ? sine : -sine;
          phaseCurrent(phases[index]!, phases[index]!.emfVolts * own - before, currentOut);
          slopes[5 + 3 * index] = currentOut[0]!;
          slopes[6 + 3 * index] = currentOut[0]! ** 2;
          slopes[7 + 3 * index] = currentOut[0]! * own;
        }
      },
      onStep(from, to, before, beforeSlopes, after, afterSlopes) {
        choke.add(to - from, before[0]!, beforeSlopes[0]!, after[0]!, afterSlopes[0]!);
        range.add(to - from, before[1]!, beforeSlopes[1]!, after[1]!, afterSlopes[1]!);
        sums.add(from, to, before[1]!, beforeSlopes[1]!, after[1]!, afterSlopes[1]!);
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
    meanVolts: start[2]!,
    startVolts: start[1]!,
    startLateVolts: 0,
    minimumVolts: range.low,
    maximumVolts: range.high,
    rippleVolts: range.high - range.low,
    rippleVoltsRms: Math.sqrt(Math.max(0, state[3]! / period)),
    loadAmps: amps,
    reservoirAmpsRms: Math.sqrt(Math.max(0, state[4]! / period)),
    phases: [figures[0]!, figures[1]!],
    chokeAmps: [choke.low > 2 * ceasedShare * amps ? choke.low : 0, choke.high],
    startAmps: start[0]!,
    harmonics: sums.harmonics,
  };
}
