import { type DeviceFigure, defineDevice, type LocalStamp, type RefineContext } from '../circuit/device.ts';
import {
  averagePump,
  collectPumpWaveform,
  findPumpStart,
  type PumpProblem,
  type PumpSource,
} from '../circuit/supply/pump-shooting.ts';
import { emptyCurve, fillCurve, type PhaseCurve } from '../circuit/supply/rectifier-law.ts';
import { fitRippleLoad } from '../circuit/supply/ripple-load.ts';
import type { SupplyWaveform } from '../circuit/supply/waveform.ts';
import { ownParameter, perPhase, phaseParameters } from './rectifier-supply-parameters.ts';

/** Positions of the parameters behind those of the phase. */
const at = {
  hertz: perPhase,
  pump: perPhase + 1,
  shift: perPhase + 2,
  pumpVolts: perPhase + 3,
  start: perPhase + 4,
  lateVolts: perPhase + 5,
  constant: perPhase + 6,
  farads: perPhase + 7,
  siemens: perPhase + 8,
  lateSiemens: perPhase + 9,
  lateSeconds: perPhase + 10,
  ripple: perPhase + 11,
  lastShift: perPhase + 12,
  lastGap: perPhase + 13,
} as const;

/** What the slow loop knows about the ripple. */
const rippleStates = { unknown: 0, found: 1, failed: 2, none: 3 } as const;

const nearPeak = 0.9;
const atPeak = 1 - 1e-5;

/**
 * Series capacitor and two rectifiers that pump charge into a reservoir, as one averaged characteristic.
 *
 * The cascade (half-wave) doubler and the bias supply that is taken off the HT winding through a capacitor.
 * `averagePump` gives the first approximation; the slow loop finds the periodic steady state of both
 * capacitors and shifts the characteristic so that the mean is exact. The reservoir stays in the circuit.
 * Both rectifiers must be alike.
 */
export const chargePumpSupply = defineDevice({
  name: 'charge-pump-supply',
  pins: ['plus', 'minus'],
  parameters: [
    ...phaseParameters(1),
    { name: 'hertz', unit: 'Hz', initial: 50, range: [40, 70], meaning: 'Mains frequency' },
    { name: 'pumpFarads', unit: 'F', initial: 47e-6, range: [1e-9, 0.1], meaning: 'Series capacitor' },
    ownParameter('shiftVolts', 'V', 2000, 'Ripple correction'),
    ownParameter('pumpStartVolts', 'V', 10000, 'Series capacitor at the zero of the EMF'),
    ownParameter('startVolts', 'V', 10000, 'Output at the zero of the EMF'),
    ownParameter('lateStartVolts', 'V', 10000, 'Late branch at the zero of the EMF'),
    ownParameter('constantAmps', 'A', 1000, 'Constant part of the load'),
    ownParameter('totalFarads', 'F', 1, 'Capacitance at the ripple frequency'),
    ownParameter('loadSiemens', 'S', 100, 'Load at the ripple frequency'),
    ownParameter('lateSiemens', 'S', 100, 'Late branch of the load'),
    ownParameter('lateSeconds', 's', 1000, 'Time constant of the late branch'),
    { ...ownParameter('rippleState', '', 3, '1 ripple found, 2 not found, 3 no ripple'), range: [0, 3] },
    ownParameter('lastShiftVolts', 'V', 2000, 'Correction of the round before'),
    ownParameter('lastGapVolts', 'V', 2000, 'What was missing from it'),
  ],
  evaluate,
  drives: ([peak]) => 2 * peak!,
  limitStep,
  refine,
  report,
});

const scratch: { curve: PhaseCurve; hertz: number; pumpFarads: number } = {
  curve: emptyCurve(),
  hertz: 50,
  pumpFarads: 1,
};
const meanOut = new Float64Array(2);

function readSource(parameters: Float64Array, into: typeof scratch): PumpSource {
  fillCurve(
    into.curve,
    Math.round(parameters[2]!),
    parameters[0]!,
    parameters[1]!,
    parameters[3]!,
    parameters[4]!,
    parameters[5]!,
    parameters[6]!,
    parameters[7]!,
  );
  into.hertz = parameters[at.hertz]!;
  into.pumpFarads = parameters[at.pump]!;
  return into;
}

function average(unknowns: Float64Array, parameters: Float64Array): void {
  averagePump(readSource(parameters, scratch), unknowns[0]! - unknowns[1]! + parameters[at.shift]!, meanOut);
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  average(unknowns, parameters);
  const [amps, slope] = [meanOut[0]!, meanOut[1]!];
  out.residuals[0] = -amps;
  out.residuals[1] = amps;
  out.derivatives[0] = -slope;
  out.derivatives[1] = slope;
  out.derivatives[2] = slope;
  out.derivatives[3] = -slope;
}

/** Keeps the voltage between 0 and twice the peak. */
function limitStep(last: Float64Array, next: Float64Array, parameters: Float64Array): boolean {
  const peak = 2 * parameters[0]! - parameters[at.shift]!;
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
  return false;
}

function pumpProblem(amps: number, parameters: Float64Array): PumpProblem {
  const source = readSource(parameters, { curve: emptyCurve(), hertz: 50, pumpFarads: 1 });
  const seconds = parameters[at.lateSeconds]!;
  return {
    ...source,
    amps,
    load: {
      farads: parameters[at.farads]!,
      siemens: parameters[at.siemens]!,
      branch: seconds > 0 ? { siemens: parameters[at.lateSiemens]!, seconds } : null,
    },
  };
}

function startOf(parameters: Float64Array): Float64Array {
  return Float64Array.of(
    parameters[at.pumpVolts]!,
    parameters[at.start]!,
    parameters[at.lateVolts]!,
    parameters[at.constant]!,
  );
}

function refine(unknowns: Float64Array, parameters: Float64Array, context: RefineContext): number {
  const volts = unknowns[0]! - unknowns[1]!;
  const before = parameters[at.shift]!;
  const peak = Math.max(1, 2 * parameters[0]!);
  average(unknowns, parameters);
  const amps = meanOut[0]!;
  if (!(amps > 0)) {
    parameters[at.shift] = 0;
    parameters[at.ripple] = rippleStates.none;
    return Math.abs(before) / peak;
  }
  const load = fitRippleLoad((hertz) => context.admittanceAround(0, 1, hertz), parameters[at.hertz]!);
  parameters[at.farads] = load.farads;
  parameters[at.siemens] = load.siemens;
  parameters[at.lateSiemens] = load.branch?.siemens ?? 0;
  parameters[at.lateSeconds] = load.branch?.seconds ?? 0;
  const steady = load.siemens + (load.branch?.siemens ?? 0);
  const guess = startOf(parameters);
  if (parameters[at.ripple] !== rippleStates.found) {
    guess.set([volts / 2, volts, load.branch ? volts : 0, amps - steady * volts]);
  }
  const problem = pumpProblem(amps, parameters);
  const start = findPumpStart(problem, guess);
  const waveform = start && collectPumpWaveform(problem, start);
  if (!start || !waveform) {
    parameters[at.ripple] = rippleStates.failed;
    return 0;
  }
  parameters[at.pumpVolts] = start[0]!;
  parameters[at.start] = start[1]!;
  parameters[at.lateVolts] = start[2]!;
  parameters[at.constant] = start[3]!;
  // The unshifted curve gives this current at volts + shift; the true mean is where it belongs.
  const gap = volts - waveform.meanVolts;
  parameters[at.shift] = before + gap * acceleration(parameters, before, gap);
  parameters[at.lastShift] = before;
  parameters[at.lastGap] = gap;
  parameters[at.ripple] = rippleStates.found;
  return Math.abs(parameters[at.shift]! - before) / peak;
}

/**
 * Secant from the round before: behind a small pump the correction depends on the current so much that
 * plain rounds would creep.
 */
function acceleration(parameters: Float64Array, shift: number, gap: number): number {
  const [moved, change] = [shift - parameters[at.lastShift]!, parameters[at.lastGap]! - gap];
  const factor = moved / change;
  return moved !== 0 && factor > 0.2 && factor < 5 ? factor : 1;
}

/** The periodic waveform of a solved charge pump; null where it was not found or nothing flows. */
export function pumpWaveform(unknowns: Float64Array, parameters: Float64Array): SupplyWaveform | null {
  if (parameters[at.ripple] !== rippleStates.found) return null;
  average(unknowns, parameters);
  return collectPumpWaveform(pumpProblem(meanOut[0]!, parameters), startOf(parameters));
}

function report(unknowns: Float64Array, parameters: Float64Array): readonly DeviceFigure[] {
  average(unknowns, parameters);
  const figures: DeviceFigure[] = [{ what: 'mean current', unit: 'A', value: meanOut[0]! }];
  const waveform = pumpWaveform(unknowns, parameters);
  const highest = waveform?.maximumVolts ?? unknowns[0]! - unknowns[1]!;
  // Each rectifier bears the whole output while the other conducts.
  figures.push({ what: 'peak inverse voltage', unit: 'V', value: highest });
  figures.push({ what: 'source resistance', unit: 'Ω', value: parameters[1]! });
  if (parameters[at.ripple] === rippleStates.failed) {
    figures.push({ what: 'ripple not found', unit: '', value: 1 });
  }
  if (waveform) {
    const [second, first] = waveform.phases;
    figures.push({ what: 'peak current', unit: 'A', value: Math.max(first.peakAmps, second.peakAmps) });
    figures.push({ what: 'rms current', unit: 'A', value: Math.max(first.rmsAmps, second.rmsAmps) });
    figures.push({ what: 'ripple peak to peak', unit: 'V', value: waveform.rippleVolts });
    figures.push({ what: 'ripple rms', unit: 'V', value: waveform.rippleVoltsRms });
    figures.push({ what: 'reservoir ripple current', unit: 'A', value: waveform.reservoirAmpsRms });
  }
  return figures;
}
