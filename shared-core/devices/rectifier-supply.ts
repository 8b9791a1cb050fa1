import { type DeviceFigure, defineDevice, type LocalStamp, type RefineContext } from '../circuit/device.ts';
import { averagePhase } from '../circuit/supply/averaged-current.ts';
import {
  emptyCurve,
  fillCurve,
  lawNumbers,
  type PhaseCurve,
  phaseCurrent,
} from '../circuit/supply/rectifier-law.ts';
import { fitRippleLoad } from '../circuit/supply/ripple-load.ts';
import { type RippleHarmonic, rippleHarmonics } from '../circuit/supply/ripple-harmonics.ts';
import { findPeriodicMean, findPeriodicState } from '../circuit/supply/shooting.ts';
import type { ShootingProblem } from '../circuit/supply/shooting-problem.ts';
import type { SupplyWaveform } from '../circuit/supply/waveform.ts';
import { tailFactor, thermalVolts } from './junction.ts';
import { at, highestPeak, perPhase, supplyParameters } from './rectifier-supply-parameters.ts';

/** What the slow loop knows about the ripple. */
const rippleStates = { unknown: 0, found: 1, failed: 2, none: 3 } as const;

/** First guess of the voltage, as a part of the peak: a supply at its usual load. */
const startPart = 0.95;
/** Part of the way to the peak that one Newton step may go: the curve's slope vanishes there. */
const nearPeak = 0.9;
/** Closer to the peak than this the voltage is left free: something else may hold it above. */
const atPeak = 1 - 1e-5;

/**
 * Mains rectifier with a reservoir, as one averaged characteristic I(V).
 *
 * Each phase conducts while its EMF exceeds the reservoir; the current is averaged over the conduction
 * angle at a steady voltage (`averagePhase`). The reservoir's ripple makes the true mean slightly lower
 * (0.1–2 %): the slow loop finds the periodic steady state with the circuit's own admittance to the ripple and shifts the characteristic so that the mean is exact. Reservoir and filter capacitors stay
 * in the circuit; `reservoirFarads` is only for one that does not. The phases must not conduct together
 * (true of half-wave, centre-tap and bridge above 0 V). Not valid for choke input.
 */
export const rectifierSupply = defineDevice({
  name: 'rectifier-supply',
  pins: ['plus', 'minus'],
  parameters: supplyParameters,
  evaluate,
  start: (parameters) => [[0, 1, startPart * highestPeak(parameters)]],
  drives: highestPeak,
  limitStep,
  storage: (parameters) =>
    parameters[at.farads]! > 0
      ? [{ kind: 'charge' as const, plus: 0, minus: 1, farads: parameters[at.farads]! }]
      : [],
  refine,
  report,
});

const scratch: readonly [PhaseCurve, PhaseCurve] = [emptyCurve(), emptyCurve()];
const meanOut = new Float64Array(2);

function readPhase(parameters: Float64Array, phase: number, into: PhaseCurve): void {
  const base = phase * perPhase;
  fillCurve(
    into,
    Math.round(parameters[base + 2]!),
    parameters[base]!,
    parameters[base + 1]!,
    parameters[base + 3]!,
    parameters[base + 4]!,
    parameters[base + 5]!,
    parameters[base + 6]!,
    parameters[base + 7]!,
  );
}

/** Mean current and its slope at a voltage across the pins, into `meanOut`. */
function averageBoth(volts: number, parameters: Float64Array): void {
  let amps = 0;
  let slope = 0;
  for (let phase = 0; phase < 2; phase++) {
    readPhase(parameters, phase, scratch[phase]!);
    if (scratch[phase]!.law === lawNumbers.none) continue;
    averagePhase(scratch[phase]!, volts + parameters[at.shift]!, meanOut);
    amps += meanOut[0]!;
    slope += meanOut[1]!;
  }
  meanOut[0] = amps;
  meanOut[1] = slope;
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  averageBoth(unknowns[0]! - unknowns[1]!, parameters);
  const [amps, slope] = [meanOut[0]!, meanOut[1]!];
  out.residuals[0] = -amps;
  out.residuals[1] = amps;
  out.derivatives[0] = -slope;
  out.derivatives[1] = slope;
  out.derivatives[2] = slope;
  out.derivatives[3] = -slope;
}

/**
 * Keeps the voltage between 0 and the peak, and follows the tail of junctions that hardly conduct near the
 * peak: there the mean current falls by a factor e for each spread.
 */
function limitStep(last: Float64Array, next: Float64Array, parameters: Float64Array): boolean {
  const peak = highestPeak(parameters) - parameters[at.shift]!;
  const from = last[0]! - last[1]!;
  const to = next[0]! - next[1]!;
  if (to < 0 && from > 0) {
    next[0] = next[1]!;
    return true;
  }
  if (to > peak && from < atPeak * peak) {
    next[0] = next[1]! + Math.max(0, from) + nearPeak * (peak - Math.max(0, from));
    return true;
  }
  if (Math.round(parameters[2]!) !== lawNumbers.semiconductor) return false;
  const factor = tailFactor((from - to) / (parameters[4]! * thermalVolts * parameters[7]!));
  if (factor > 1) next[0] = next[1]! + from + factor * (to - from);
  return factor > 1;
}

function hasTwoPhases(parameters: Float64Array): boolean {
  return parameters[2]! > -0.5 && parameters[perPhase + 2]! > -0.5;
}

/** The supply at its operating point as a periodic problem; needs what the slow loop left. */
function shootingProblem(amps: number, parameters: Float64Array): ShootingProblem {
  const phases: [PhaseCurve, PhaseCurve] = [emptyCurve(), emptyCurve()];
  readPhase(parameters, 0, phases[0]);
  readPhase(parameters, 1, phases[1]);
  return {
    phases,
    hertz: parameters[at.hertz]!,
    farads: parameters[at.totalFarads]!,
    load: {
      kind: 'mean',
      amps,
      siemens: parameters[at.loadSiemens]!,
      branch:
        parameters[at.lateSeconds]! > 0
          ? { siemens: parameters[at.lateSiemens]!, seconds: parameters[at.lateSeconds]! }
          : null,
    },
  };
}

function refine(unknowns: Float64Array, parameters: Float64Array, context: RefineContext): number {
  const volts = unknowns[0]! - unknowns[1]!;
  averageBoth(volts, parameters);
  const amps = meanOut[0]!;
  const before = parameters[at.shift]!;
  const peak = Math.max(1, parameters[0]!, parameters[perPhase]!);
  if (!(amps > 0)) {
    parameters[at.shift] = 0;
    parameters[at.ripple] = rippleStates.none;
    return Math.abs(before) / peak;
  }
  const ripple = parameters[at.hertz]! * (hasTwoPhases(parameters) ? 2 : 1);
  const rest = fitRippleLoad((hertz) => context.admittanceAround(0, 1, hertz), ripple);
  parameters[at.totalFarads] = parameters[at.farads]! + rest.farads;
  parameters[at.loadSiemens] = rest.siemens;
  parameters[at.lateSiemens] = rest.branch?.siemens ?? 0;
  parameters[at.lateSeconds] = rest.branch?.seconds ?? 0;
  const guess = parameters[at.ripple] === rippleStates.found ? parameters[at.start]! : volts;
  const found = findPeriodicMean(shootingProblem(amps, parameters), guess);
  if (!found.ok) {
    parameters[at.ripple] = rippleStates.failed;
    return 0;
  }
  // The unshifted curve gives this current at volts + shift; the true mean is where it belongs.
  parameters[at.shift] = volts + before - found.meanVolts + parameters[at.sag]!;
  parameters[at.start] = found.unknown[0]!;
  parameters[at.ripple] = rippleStates.found;
  return Math.abs(parameters[at.shift]! - before) / peak;
}

/**
 * The periodic waveform of a solved supply; null where the ripple was not found or nothing flows.
 *
 * @param unknowns Pin voltages at the operating point, in volts (V).
 * @param parameters As the slow loop left them.
 */
export function supplyWaveform(unknowns: Float64Array, parameters: Float64Array): SupplyWaveform | null {
  if (parameters[at.ripple] !== rippleStates.found) return null;
  averageBoth(unknowns[0]! - unknowns[1]!, parameters);
  const found = findPeriodicState(shootingProblem(meanOut[0]!, parameters), parameters[at.start]);
  return found.ok ? found.waveform : null;
}

/** The harmonics of a solved supply's ripple; null where the ripple was not found or nothing flows. */
export function supplyRipple(
  unknowns: Float64Array,
  parameters: Float64Array,
  count: number,
): readonly RippleHarmonic[] | null {
  if (parameters[at.ripple] !== rippleStates.found) return null;
  averageBoth(unknowns[0]! - unknowns[1]!, parameters);
  return rippleHarmonics(shootingProblem(meanOut[0]!, parameters), parameters[at.start]!, count);
}

function report(unknowns: Float64Array, parameters: Float64Array): readonly DeviceFigure[] {
  averageBoth(unknowns[0]! - unknowns[1]!, parameters);
  const figures: DeviceFigure[] = [{ what: 'mean current', unit: 'A', value: meanOut[0]! }];
  const waveform = supplyWaveform(unknowns, parameters);
  const highest = waveform?.maximumVolts ?? unknowns[0]! - unknowns[1]!;
  for (const phase of [0, 1] as const) {
    const base = phase * perPhase;
    if (parameters[base + 2]! < -0.5) continue;
    const reverse = parameters[base]! + (parameters[at.bridge]! > 0.5 ? 0 : highest);
    figures.push({ what: `peak inverse voltage ${phase + 1}`, unit: 'V', value: reverse });
    figures.push({ what: `source resistance ${phase + 1}`, unit: 'Ω', value: parameters[base + 1]! });
    // Switched on hot at the crest with the reservoir empty: only the source resistance limits it.
    readPhase(parameters, phase, scratch[phase]);
    phaseCurrent(scratch[phase], scratch[phase].emfVolts, meanOut);
    figures.push({ what: `hot-switching surge ${phase + 1}`, unit: 'A', value: meanOut[0]! });
    if (!waveform) continue;
    figures.push({ what: `peak current ${phase + 1}`, unit: 'A', value: waveform.phases[phase].peakAmps });
    figures.push({ what: `rms current ${phase + 1}`, unit: 'A', value: waveform.phases[phase].rmsAmps });
  }
  if (parameters[at.ripple] === rippleStates.failed)
    figures.push({ what: 'ripple not found', unit: '', value: 1 });
  if (waveform) {
    figures.push({
      what: 'reservoir at the ripple frequency',
      unit: 'F',
      value: parameters[at.totalFarads]!,
    });
    figures.push({ what: 'ripple peak to peak', unit: 'V', value: waveform.rippleVolts });
    figures.push({ what: 'ripple rms', unit: 'V', value: waveform.rippleVoltsRms });
    figures.push({ what: 'reservoir ripple current', unit: 'A', value: waveform.reservoirAmpsRms });
  }
  return figures;
}
