import type { TimeProblem } from '../../numerics/runge-kutta.ts';
import { Crest, Range } from './crest.ts';
import { integratePeriod } from './mains-period.ts';
import { type PhaseCurve, phaseCurrent } from './rectifier-law.ts';
import type { LoadBranch, ShootingProblem } from './shooting-problem.ts';

/** What the periodic steady state of a supply looks like, in figures. */
export interface SupplyWaveform {
  /** Mean reservoir voltage, in volts (V). */
  readonly meanVolts: number;
  /** Voltage where the first phase's EMF rises through zero, in volts (V). */
  readonly startVolts: number;
  /** Voltage of the load's late branch at the same instant, in volts (V): a filter capacitor's, less the mean drop. */
  readonly startLateVolts: number;
  readonly minimumVolts: number;
  readonly maximumVolts: number;
  /** Ripple peak to peak and rms, in volts (V). */
  readonly rippleVolts: number;
  readonly rippleVoltsRms: number;
  /** Mean load current, in amperes (A). */
  readonly loadAmps: number;
  /** Ripple current of the reservoir, in amperes rms (A), the load's own ripple left out. */
  readonly reservoirAmpsRms: number;
  readonly phases: readonly [PhaseWaveform, PhaseWaveform];
}

/** Currents of one phase over the mains cycle. */
export interface PhaseWaveform {
  /** In amperes (A). */
  readonly meanAmps: number;
  readonly peakAmps: number;
  readonly rmsAmps: number;
  /** Mean of the current times the unit sine of its own EMF, in amperes (A): its share of the power. */
  readonly sineAmps: number;
}

/** Relative error of the current integrals, per step. */
const momentTolerance = 1e-10;

/** Runs once more over the period and gathers the figures; null where the run failed. */
export function collectWaveform(
  problem: ShootingProblem,
  start: Float64Array,
  meanVolts: number,
  branch: LoadBranch | null,
  limits: TimeProblem,
): SupplyWaveform | null {
  const { phases, farads, hertz, load } = problem;
  const [startVolts, startLate, constant] = [start[0]!, start[1]!, start[2]!];
  const period = 1 / hertz;
  const turn = 2 * Math.PI * hertz;
  const out = new Float64Array(2);
  // v, ∫(v − mean)², then per phase ∫i, ∫i², ∫i·sin; last the branch of the load.
  const state = new Float64Array(9);
  state[8] = startLate;
  state[0] = startVolts;
  const largest = Math.max(...phases.map((phase) => crestAmps(phase, meanVolts, out)), 1e-12);
  const spread = period * largest * momentTolerance;
  const tolerances = Float64Array.of(limits.tolerances[0]!, 1e-8 * meanVolts ** 2 * period + 1e-15);
  const late = branch?.siemens ?? 0;
  const rate = branch ? 1 / branch.seconds : 0;
  const peaks = [new Crest(), new Crest()] as const;
  const range = new Range(startVolts);
  const slopesAt = (time: number, now: Float64Array, slopes: Float64Array): void => {
    const volts = now[0]!;
    const sine = Math.sin(turn * time);
    let amps = -constant - load.siemens * volts - late * now[8]!;
    for (let index = 0; index < 2; index++) {
      const own = index === 0 ? sine : -sine;
      phaseCurrent(phases[index]!, phases[index]!.emfVolts * own - volts, out);
      const flow = out[0]!;
      amps += flow;
      slopes[2 + 3 * index] = flow;
      slopes[3 + 3 * index] = flow * flow;
      slopes[4 + 3 * index] = flow * own;
    }
    slopes[0] = amps / farads;
    slopes[1] = (volts - meanVolts) ** 2;
    slopes[8] = rate * (volts - now[8]!);
  };
  const isDone = integratePeriod(
    {
      slopesAt,
      ...(limits.switches ? { switches: limits.switches } : {}),
      tolerances: Float64Array.of(
        ...tolerances,
        spread,
        spread * largest,
        spread,
        spread,
        spread * largest,
        spread,
        limits.tolerances[0]!,
      ),
      maxStep: period / 200,
      maxSteps: limits.maxSteps,
      onStep(from, to, before, beforeSlopes, after, afterSlopes) {
        range.add(to - from, before[0]!, beforeSlopes[0]!, after[0]!, afterSlopes[0]!);
        for (const index of [0, 1] as const) peaks[index].add(to, afterSlopes[2 + 3 * index]!);
      },
    },
    state,
    period,
  );
  if (!isDone) return null;
  const figures = [0, 1].map((index): PhaseWaveform => {
    const [mean, square, sine] = [0, 1, 2].map((part) => state[2 + 3 * index + part]! / period);
    return {
      meanAmps: mean!,
      peakAmps: peaks[index]!.peak,
      rmsAmps: Math.sqrt(Math.max(0, square!)),
      sineAmps: sine!,
    };
  });
  const loadAmps = constant + (load.siemens + late) * meanVolts;
  const squares = figures.reduce((sum, phase) => sum + phase.rmsAmps ** 2, 0);
  return {
    meanVolts,
    startVolts,
    startLateVolts: startLate,
    minimumVolts: range.low,
    maximumVolts: range.high,
    rippleVolts: range.high - range.low,
    rippleVoltsRms: Math.sqrt(Math.max(0, state[1]! / period)),
    loadAmps,
    reservoirAmpsRms: Math.sqrt(Math.max(0, squares - loadAmps * loadAmps)),
    phases: [figures[0]!, figures[1]!],
  };
}

function crestAmps(phase: PhaseCurve, volts: number, out: Float64Array): number {
  phaseCurrent(phase, phase.emfVolts - volts, out);
  return Math.abs(out[0]!);
}
