import { type DeviceFigure, defineDevice, type LocalStamp, type RefineContext } from '../circuit/device.ts';
import { averageChoke, type ChokeSource } from '../circuit/supply/choke-law.ts';
import {
  type ChokeProblem,
  type ChokeWaveform,
  collectChokeWaveform,
  findChokeStart,
} from '../circuit/supply/choke-shooting.ts';
import { emptyCurve, fillCurve, lawNumbers, type PhaseCurve } from '../circuit/supply/rectifier-law.ts';
import { highestPeak, perPhase, phaseParameters } from './rectifier-supply-parameters.ts';

/** Positions of the parameters behind those of the phases. */
const at = {
  hertz: 2 * perPhase,
  henries: 2 * perPhase + 1,
  ohms: 2 * perPhase + 2,
  bridge: 2 * perPhase + 3,
  shift: 2 * perPhase + 4,
  startAmps: 2 * perPhase + 5,
  startVolts: 2 * perPhase + 6,
  meanVolts: 2 * perPhase + 7,
  farads: 2 * perPhase + 8,
  siemens: 2 * perPhase + 9,
  ripple: 2 * perPhase + 10,
  miss: 2 * perPhase + 11,
  step: 2 * perPhase + 12,
} as const;

/** What the slow loop knows about the ripple. */
const rippleStates = { unknown: 0, found: 1, failed: 2, none: 3 } as const;

/** Part of the way to the peak that one Newton step may go: the curve's slope vanishes there. */
const nearPeak = 0.9;
/** Closer to the peak than this the voltage is left free: something else may hold it above. */
const atPeak = 1 - 1e-5;

/**
 * Mains rectifier that works into a choke, as one averaged characteristic I(V) at the choke's input.
 *
 * The choke itself stays in the circuit. Above the critical current the mean before it is 2/π of the crest
 * less the drop; below, the current ceases in each half cycle and the voltage rises to the crest
 * (`averageChoke`). The slow loop finds the periodic steady state with the capacitance behind the choke and
 * shifts the characteristic so that the mean is exact. Not valid with a reservoir before the choke (that is
 * a capacitor input), nor for swinging chokes, whose inductance depends on the current.
 */
export const chokeInputSupply = defineDevice({
  name: 'choke-input-supply',
  pins: ['plus', 'minus'],
  parameters: [
    ...phaseParameters(1),
    ...phaseParameters(2),
    { name: 'hertz', unit: 'Hz', initial: 50, range: [40, 70], meaning: 'Mains frequency' },
    { name: 'chokeHenries', unit: 'H', initial: 10, range: [1e-3, 1000], meaning: 'Inductance of the choke' },
    { name: 'chokeOhms', unit: 'Ω', initial: 0, range: [0, 1e5], meaning: 'Copper of the choke' },
    {
      name: 'isBridge',
      unit: '',
      initial: 0,
      range: [0, 1],
      meaning: '1 for a bridge: a rectifier sees the EMF once in reverse, not twice',
    },
    {
      name: 'shiftVolts',
      unit: 'V',
      initial: 0,
      range: [-500, 500],
      meaning: 'Ripple correction, set by the slow loop',
    },
    {
      name: 'startAmps',
      unit: 'A',
      initial: 0,
      range: [0, 1000],
      meaning: 'Choke current at the zero of the EMF, set by the slow loop',
    },
    {
      name: 'startVolts',
      unit: 'V',
      initial: 0,
      range: [-5000, 5000],
      meaning: 'Voltage behind the choke at the zero of the EMF, set by the slow loop',
    },
    {
      name: 'meanVolts',
      unit: 'V',
      initial: 0,
      range: [-5000, 5000],
      meaning: 'Mean behind the choke, set by the slow loop',
    },
    {
      name: 'filterFarads',
      unit: 'F',
      initial: 0,
      range: [-1, 1],
      meaning: 'Capacitance behind the choke at the ripple frequency, set by the slow loop',
    },
    {
      name: 'filterSiemens',
      unit: 'S',
      initial: 0,
      range: [-100, 100],
      meaning: 'Load behind the choke at the ripple frequency, set by the slow loop',
    },
    {
      name: 'rippleState',
      unit: '',
      initial: 0,
      range: [0, 3],
      meaning: '1 ripple found, 2 not found, 3 no ripple; set by the slow loop',
    },
    {
      name: 'lastMissVolts',
      unit: 'V',
      initial: 0,
      range: [-500, 500],
      meaning: 'By how much the shift was wrong a round ago, set by the slow loop',
    },
    {
      name: 'lastStepVolts',
      unit: 'V',
      initial: 0,
      range: [-500, 500],
      meaning: 'By how much it was moved a round ago, set by the slow loop',
    },
  ],
  evaluate,
  drives: highestPeak,
  limitStep,
  refine,
  report,
});

const scratch: { phases: [PhaseCurve, PhaseCurve]; hertz: number; henries: number } = {
  phases: [emptyCurve(), emptyCurve()],
  hertz: 50,
  henries: 1,
};
const meanOut = new Float64Array(2);

function readSource(parameters: Float64Array, into: typeof scratch): ChokeSource {
  for (const phase of [0, 1] as const) {
    const base = phase * perPhase;
    fillCurve(
      into.phases[phase],
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
  into.hertz = parameters[at.hertz]!;
  into.henries = parameters[at.henries]!;
  return into;
}

function evaluate(unknowns: Float64Array, parameters: Float64Array, out: LocalStamp): void {
  averageChoke(readSource(parameters, scratch), unknowns[0]! - unknowns[1]! + parameters[at.shift]!, meanOut);
  const [amps, slope] = [meanOut[0]!, meanOut[1]!];
  out.residuals[0] = -amps;
  out.residuals[1] = amps;
  out.derivatives[0] = -slope;
  out.derivatives[1] = slope;
  out.derivatives[2] = slope;
  out.derivatives[3] = -slope;
}

/** Keeps the voltage between 0 and the peak. */
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
  return false;
}

function chokeProblem(amps: number, parameters: Float64Array): ChokeProblem {
  const source = readSource(parameters, { phases: [emptyCurve(), emptyCurve()], hertz: 50, henries: 1 });
  return {
    ...source,
    chokeOhms: parameters[at.ohms]!,
    farads: parameters[at.farads]!,
    siemens: parameters[at.siemens]!,
    amps,
  };
}

function refine(unknowns: Float64Array, parameters: Float64Array, context: RefineContext): number {
  const volts = unknowns[0]! - unknowns[1]!;
  const before = parameters[at.shift]!;
  const peak = Math.max(1, parameters[0]!, parameters[perPhase]!);
  averageChoke(readSource(parameters, scratch), volts + before, meanOut);
  const amps = meanOut[0]!;
  if (!(amps > 0)) {
    parameters[at.shift] = 0;
    parameters[at.ripple] = rippleStates.none;
    return Math.abs(before) / peak;
  }
  const isFullWave = scratch.phases.every(({ law }) => law !== lawNumbers.none);
  measureFilter(parameters, context, parameters[at.hertz]! * (isFullWave ? 2 : 1));
  const behind = volts - parameters[at.ohms]! * amps;
  const guess =
    parameters[at.ripple] === rippleStates.found
      ? Float64Array.of(parameters[at.startAmps]!, parameters[at.startVolts]!, parameters[at.meanVolts]!)
      : Float64Array.of(isFullWave ? amps : 0, behind, behind);
  const start = findChokeStart(chokeProblem(amps, parameters), guess);
  if (!start) {
    parameters[at.ripple] = rippleStates.failed;
    return 0;
  }
  parameters[at.startAmps] = start[0]!;
  parameters[at.startVolts] = start[1]!;
  parameters[at.meanVolts] = start[2]!;
  parameters[at.ripple] = rippleStates.found;
  // The unshifted curve gives this current at volts + shift; the true mean is where it belongs.
  const miss = volts - (start[2]! + parameters[at.ohms]! * amps);
  const step = dampedStep(miss, parameters[at.miss]!, parameters[at.step]!);
  parameters[at.miss] = miss;
  parameters[at.step] = step;
  parameters[at.shift] = before + step;
  return Math.abs(miss) / peak;
}

/**
 * How far to move a shift that is wrong by `miss`: all the way, unless the last step went too far.
 *
 * Close to the critical current the mean follows the current so steeply that full steps swing to and fro for
 * ever; the secant through the last two rounds is then taken, never further than the full step (V).
 */
function dampedStep(miss: number, lastMiss: number, lastStep: number): number {
  const hasOvershot = miss * lastMiss < 0 && lastStep !== 0;
  if (!hasOvershot) return miss;
  const secant = (-miss * lastStep) / (miss - lastMiss);
  return secant * miss > 0 && Math.abs(secant) < Math.abs(miss) ? secant : miss;
}

/** What stands behind the choke at the ripple frequency: the impedance seen, less the choke's own. */
function measureFilter(parameters: Float64Array, context: RefineContext, hertz: number): void {
  const turn = 2 * Math.PI * hertz;
  const [conductance, susceptance] = context.admittanceAround(0, 1, hertz);
  const square = conductance ** 2 + susceptance ** 2;
  const real = square > 0 ? conductance / square - parameters[at.ohms]! : 0;
  const imaginary = square > 0 ? -susceptance / square - turn * parameters[at.henries]! : 0;
  const behind = real ** 2 + imaginary ** 2;
  parameters[at.siemens] = behind > 0 ? real / behind : 0;
  parameters[at.farads] = behind > 0 ? -imaginary / behind / turn : 0;
}

/** The periodic waveform of a solved choke-input supply; null where it was not found or nothing flows. */
export function chokeWaveform(unknowns: Float64Array, parameters: Float64Array): ChokeWaveform | null {
  if (parameters[at.ripple] !== rippleStates.found) return null;
  const volts = unknowns[0]! - unknowns[1]! + parameters[at.shift]!;
  averageChoke(readSource(parameters, scratch), volts, meanOut);
  const start = Float64Array.of(
    parameters[at.startAmps]!,
    parameters[at.startVolts]!,
    parameters[at.meanVolts]!,
  );
  return collectChokeWaveform(chokeProblem(meanOut[0]!, parameters), start);
}

function report(unknowns: Float64Array, parameters: Float64Array): readonly DeviceFigure[] {
  averageChoke(readSource(parameters, scratch), unknowns[0]! - unknowns[1]! + parameters[at.shift]!, meanOut);
  const figures: DeviceFigure[] = [{ what: 'mean current', unit: 'A', value: meanOut[0]! }];
  const waveform = chokeWaveform(unknowns, parameters);
  for (const phase of [0, 1] as const) {
    const base = phase * perPhase;
    if (parameters[base + 2]! < -0.5) continue;
    // Before the choke the voltage follows the crest of the other phase.
    const reverse = parameters[base]! * (parameters[at.bridge]! > 0.5 ? 1 : 2);
    figures.push({ what: `peak inverse voltage ${phase + 1}`, unit: 'V', value: reverse });
    if (!waveform) continue;
    figures.push({ what: `peak current ${phase + 1}`, unit: 'A', value: waveform.phases[phase].peakAmps });
    figures.push({ what: `rms current ${phase + 1}`, unit: 'A', value: waveform.phases[phase].rmsAmps });
  }
  if (parameters[at.ripple] === rippleStates.failed) {
    figures.push({ what: 'ripple not found', unit: '', value: 1 });
  }
  if (waveform) {
    figures.push({ what: 'least choke current', unit: 'A', value: waveform.chokeAmps[0] });
    figures.push({ what: 'largest choke current', unit: 'A', value: waveform.chokeAmps[1] });
    figures.push({ what: 'ripple peak to peak', unit: 'V', value: waveform.rippleVolts });
    figures.push({ what: 'ripple rms', unit: 'V', value: waveform.rippleVoltsRms });
    figures.push({ what: 'reservoir ripple current', unit: 'A', value: waveform.reservoirAmpsRms });
  }
  return figures;
}
