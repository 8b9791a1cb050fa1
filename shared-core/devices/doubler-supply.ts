import { type DeviceFigure, defineDevice, type LocalStamp, type RefineContext } from '../circuit/device.ts';
import { averagePhase } from '../circuit/supply/averaged-current.ts';
import {
  collectDoublerWaveform,
  type DoublerProblem,
  type DoublerWaveform,
  findDoublerStart,
} from '../circuit/supply/doubler-shooting.ts';
import { emptyCurve, fillCurve, lawNumbers, type PhaseCurve } from '../circuit/supply/rectifier-law.ts';
import { fitRippleLoad } from '../circuit/supply/ripple-load.ts';
import { ownParameter, perPhase, phaseParameters } from './rectifier-supply-parameters.ts';

/** Positions of the parameters behind those of the phases. */
const at = {
  hertz: 2 * perPhase,
  farads: 2 * perPhase + 1,
  shift: 2 * perPhase + 3,
  start: 2 * perPhase + 5,
  across: 2 * perPhase + 9,
  siemens: 2 * perPhase + 10,
  lateSiemens: 2 * perPhase + 11,
  lateSeconds: 2 * perPhase + 12,
  ripple: 2 * perPhase + 13,
} as const;

/** What the slow loop knows about the ripple. */
const rippleStates = { unknown: 0, found: 1, failed: 2, none: 3 } as const;

const nearPeak = 0.9;
const atPeak = 1 - 1e-5;

/**
 * Full-wave voltage doubler: two rectifiers on one winding, each with its own reservoir, in series.
 *
 * Each half is an averaged half-wave characteristic; the slow loop finds the periodic steady state of both
 * reservoirs together, because the load across both carries the ripple of the one into the other, and
 * shifts each characteristic. The reservoirs stay in the circuit.
 */
export const doublerSupply = defineDevice({
  name: 'doubler-supply',
  pins: ['plus', 'middle', 'minus'],
  parameters: [
    ...phaseParameters(1),
    ...phaseParameters(2),
    { name: 'hertz', unit: 'Hz', initial: 50, range: [40, 70], meaning: 'Mains frequency' },
    { name: 'upperFarads', unit: 'F', initial: 47e-6, range: [1e-9, 0.1], meaning: 'Upper reservoir' },
    { name: 'lowerFarads', unit: 'F', initial: 47e-6, range: [1e-9, 0.1], meaning: 'Lower reservoir' },
    ownParameter('upperShiftVolts', 'V', 500, 'Ripple correction of the upper half'),
    ownParameter('lowerShiftVolts', 'V', 500, 'Ripple correction of the lower half'),
    ownParameter('upperStartVolts', 'V', 5000, 'Upper half at the zero of the EMF'),
    ownParameter('lowerStartVolts', 'V', 5000, 'Lower half at the zero of the EMF'),
    ownParameter('lateStartVolts', 'V', 10000, 'Late branch at the zero of the EMF'),
    ownParameter('meanVolts', 'V', 10000, 'Mean of the whole'),
    ownParameter('acrossFarads', 'F', 1, 'Capacitance across both reservoirs'),
    ownParameter('loadSiemens', 'S', 100, 'Load across both at the ripple frequency'),
    ownParameter('lateSiemens', 'S', 100, 'Late branch of the load'),
    ownParameter('lateSeconds', 's', 1000, 'Time constant of the late branch'),
    { ...ownParameter('rippleState', '', 3, '1 ripple found, 2 not found, 3 no ripple'), range: [0, 3] },
  ],
  evaluate,
  drives: (parameters) => parameters[0]! + parameters[perPhase]!,
  limitStep,
  refine,
  report,
});

const scratch = emptyCurve();
const meanOut = new Float64Array(2);

function readPhase(parameters: Float64Array, phase: number, into: PhaseCurve): PhaseCurve {
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
  return into;
}

/** Mean current of one half and its slope, into `meanOut`. */
function average(unknowns: Float64Array, parameters: Float64Array, half: number): void {
  const volts = unknowns[half]! - unknowns[half + 1]!;
  meanOut.fill(0);
  if (readPhase(parameters, half, scratch).law === lawNumbers.none) return;
  averagePhase(scratch, volts + parameters[at.shift + half]!, meanOut);
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  for (let half = 0; half < 2; half++) {
    average(unknowns, parameters, half);
    const [amps, slope] = [meanOut[0]!, meanOut[1]!];
    out.residuals[half]! -= amps;
    out.residuals[half + 1]! += amps;
    out.derivatives[half * 3 + half]! -= slope;
    out.derivatives[half * 3 + half + 1]! += slope;
    out.derivatives[(half + 1) * 3 + half]! += slope;
    out.derivatives[(half + 1) * 3 + half + 1]! -= slope;
  }
}

/** Keeps the voltage of each half between 0 and its peak. */
function limitStep(last: Float64Array, next: Float64Array, parameters: Float64Array): boolean {
  let isHeld = false;
  // From the bottom: a half is held by moving its upper end.
  for (let half = 1; half >= 0; half--) {
    const peak = parameters[half * perPhase]! - parameters[at.shift + half]!;
    const from = last[half]! - last[half + 1]!;
    const to = next[half]! - next[half + 1]!;
    let held = to;
    if (to < 0 && from > 0) held = 0;
    if (to > peak && from < atPeak * peak) held = Math.max(0, from) + nearPeak * (peak - Math.max(0, from));
    if (held === to) continue;
    isHeld = true;
    next[half] = next[half + 1]! + held;
  }
  return isHeld;
}

function doublerProblem(amps: readonly [number, number], parameters: Float64Array): DoublerProblem {
  const seconds = parameters[at.lateSeconds]!;
  return {
    phases: [readPhase(parameters, 0, emptyCurve()), readPhase(parameters, 1, emptyCurve())],
    hertz: parameters[at.hertz]!,
    farads: [parameters[at.farads]!, parameters[at.farads + 1]!],
    amps,
    load: {
      farads: parameters[at.across]!,
      siemens: parameters[at.siemens]!,
      branch: seconds > 0 ? { siemens: parameters[at.lateSiemens]!, seconds } : null,
    },
  };
}

function bothAmps(unknowns: Float64Array, parameters: Float64Array): readonly [number, number] {
  average(unknowns, parameters, 0);
  const first = meanOut[0]!;
  average(unknowns, parameters, 1);
  return [first, meanOut[0]!];
}

function refine(unknowns: Float64Array, parameters: Float64Array, context: RefineContext): number {
  const before = [parameters[at.shift]!, parameters[at.shift + 1]!] as const;
  const peak = Math.max(1, parameters[0]!, parameters[perPhase]!);
  const amps = bothAmps(unknowns, parameters);
  if (!(Math.max(...amps) > 0)) {
    parameters.fill(0, at.shift, at.shift + 2);
    parameters[at.ripple] = rippleStates.none;
    return Math.max(...before.map(Math.abs)) / peak;
  }
  const fit = fitRippleLoad((hertz) => context.admittanceAround(0, 2, hertz), 2 * parameters[at.hertz]!);
  const [upper, lower] = [parameters[at.farads]!, parameters[at.farads + 1]!];
  parameters[at.across] = Math.max(0, fit.farads - (upper * lower) / (upper + lower));
  parameters[at.siemens] = fit.siemens;
  parameters[at.lateSiemens] = fit.branch?.siemens ?? 0;
  parameters[at.lateSeconds] = fit.branch?.seconds ?? 0;
  const guess = parameters.slice(at.start, at.start + 4);
  const volts = [unknowns[0]! - unknowns[1]!, unknowns[1]! - unknowns[2]!] as const;
  if (parameters[at.ripple] !== rippleStates.found) {
    guess.set([volts[0], volts[1], fit.branch ? volts[0] + volts[1] : 0, volts[0] + volts[1]]);
  }
  const problem = doublerProblem(amps, parameters);
  const start = findDoublerStart(problem, guess);
  const waveform = start && collectDoublerWaveform(problem, start);
  if (!start || !waveform) {
    parameters[at.ripple] = rippleStates.failed;
    return 0;
  }
  parameters.set(start, at.start);
  parameters[at.ripple] = rippleStates.found;
  let change = 0;
  for (const half of [0, 1] as const) {
    // The unshifted curve gives this current at volts + shift; the true mean is where it belongs.
    const shift = volts[half] + before[half] - waveform.halfVolts[half];
    parameters[at.shift + half] = shift;
    change = Math.max(change, Math.abs(shift - before[half]) / peak);
  }
  return change;
}

/** The periodic waveform of a solved doubler; null where it was not found or nothing flows. */
export function doublerWaveform(unknowns: Float64Array, parameters: Float64Array): DoublerWaveform | null {
  if (parameters[at.ripple] !== rippleStates.found) return null;
  const problem = doublerProblem(bothAmps(unknowns, parameters), parameters);
  return collectDoublerWaveform(problem, parameters.slice(at.start, at.start + 4));
}

function report(unknowns: Float64Array, parameters: Float64Array): readonly DeviceFigure[] {
  const amps = bothAmps(unknowns, parameters);
  const waveform = doublerWaveform(unknowns, parameters);
  const figures: DeviceFigure[] = [];
  for (const half of [0, 1] as const) {
    const emf = parameters[half * perPhase]!;
    const highest = waveform?.halfPeaks[half] ?? unknowns[half]! - unknowns[half + 1]!;
    const name = half + 1;
    figures.push({ what: `mean current ${name}`, unit: 'A', value: amps[half] });
    figures.push({ what: `peak inverse voltage ${name}`, unit: 'V', value: emf + highest });
    figures.push({ what: `source resistance ${name}`, unit: 'Ω', value: parameters[half * perPhase + 1]! });
    if (!waveform) continue;
    figures.push({ what: `peak current ${name}`, unit: 'A', value: waveform.phases[half].peakAmps });
    figures.push({ what: `rms current ${name}`, unit: 'A', value: waveform.phases[half].rmsAmps });
  }
  if (parameters[at.ripple] === rippleStates.failed) {
    figures.push({ what: 'ripple not found', unit: '', value: 1 });
  }
  if (waveform) {
    figures.push({ what: 'ripple peak to peak', unit: 'V', value: waveform.rippleVolts });
    figures.push({ what: 'ripple rms', unit: 'V', value: waveform.rippleVoltsRms });
    figures.push({ what: 'reservoir ripple current', unit: 'A', value: waveform.reservoirAmpsRms });
  }
  return figures;
}
