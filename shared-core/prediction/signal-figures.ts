import { type Complex, SmallSignal, type Stimulus } from '../circuit/small-signal.ts';
import { pentode } from '../devices/pentode.ts';
import { triode } from '../devices/triode.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Bench, Fitted } from './bench.ts';
import {
  type ConditionState,
  openCondition,
  plugVolts,
  signalId,
  solveCondition,
} from './condition-model.ts';
import { type ClippingFigures, clippingOf } from './clipping.ts';
import { type HumFigures, humAt } from './hum.ts';
import { signalHertz } from './predict-condition.ts';
import { nominalWorld } from './world.ts';

/** One valve section as a stage of the amplifier, in small signal. */
export interface StageFigures {
  /** The section's element: `V1.1`, `V2`. */
  readonly element: string;
  /** Where its signal comes out: the end with the larger gain. */
  readonly output: 'anode' | 'cathode';
  /** From its own grid to its output, at 1 kHz; negative gain is a phase near 180°. */
  readonly gain: number;
  readonly phaseDegrees: number;
  /** From the input to its output, at 1 kHz; null where the input is not open to a signal. */
  readonly fromInput: number | null;
  /** −3 dB points of `fromInput`, in hertz (Hz); null where there is none between 1 mHz and 1 GHz. */
  readonly lowHertz: number | null;
  readonly highHertz: number | null;
  /** Resistance of everything at its output, its load included, at 1 kHz, in ohms (Ω). */
  readonly outputOhms: number;
}

/** The whole amplifier, from the input to its output terminals. */
export interface OutputFigures {
  /** The output's two places. */
  readonly at: string;
  readonly against: string;
  readonly gain: number | null;
  readonly phaseDegrees: number | null;
  readonly lowHertz: number | null;
  readonly highHertz: number | null;
  /** Resistance of the amplifier itself, without its load, at 1 kHz, in ohms (Ω). */
  readonly outputOhms: number;
  /** The load, in ohms (Ω); null without one. */
  readonly loadOhms: number | null;
  /** Null where no supply's ripple is known. */
  readonly hum: HumFigures | null;
  readonly clipping: ClippingFigures;
}

/** Small-signal figures of a live condition. */
export interface SignalFigures {
  readonly hertz: number;
  readonly stages: readonly StageFigures[];
  readonly outputs: readonly OutputFigures[];
}

/**
 * Gain, phase, corners and output resistance stage by stage, with hum and the onset of clipping.
 *
 * At the operating point, made linear (`SmallSignal`); ideal capacitors, no stray ones but the kit's, output
 * transformers without leakage inductance: the upper corner is therefore an upper limit.
 *
 * @param state A solved live condition.
 * @returns Null without valves that amplify, or without an operating point.
 */
export function signalFigures(state: ConditionState): SignalFigures | null {
  if (!state.converged || state.model.heat !== 'hot') return null;
  const { chosen, condition } = state.model;
  const small = new SmallSignal(state.solver);
  const input = inputOf(state);
  const stages = state.elements.flatMap(({ id, device, nets }): StageFigures[] => {
    if (device !== triode && device !== pentode) return [];
    const netOf = (pin: string): string => nets[device.pins.indexOf(pin as never)] ?? '';
    return [stageFigures(state, small, input, id, netOf)];
  });
  if (stages.length === 0) return null;
  const outputs = chosen.parts.flatMap((part): OutputFigures[] => {
    if (part.kind !== 'jack' || part.role !== 'output') return [];
    const [at, against] = part.terminals.map((end) => `${part.id}.${end}`);
    if (at === undefined || against === undefined) return [];
    return outputFigures(state, small, input, at, against, condition.loads[part.id] ?? null);
  });
  return { hertz: signalHertz, stages, outputs };
}

/**
 * The same for a condition by its id, at nominal values.
 *
 * @returns Null also for a condition without mains, or that the kit does not have.
 */
export function predictSignal(
  chosen: ChosenKit,
  conditionId: string,
  bench: Bench,
  fitted: Fitted,
): SignalFigures | null {
  const condition = chosen.conditions.find(({ id }) => id === conditionId);
  if (condition?.supply !== 'mains') return null;
  const model = openCondition(chosen, condition, bench, fitted);
  return signalFigures(solveCondition(model, nominalWorld, plugVolts(condition, bench)));
}

/** What drives the amplifier: its generator, or its input's net where that is neither shorted nor earthed. */
function inputOf(state: ConditionState): Stimulus | null {
  const { solver, model } = state;
  if (solver.compiled.elementIndex.has(signalId)) {
    return { kind: 'parameter', element: signalId, name: 'volts' };
  }
  const jack = model.chosen.parts.find((part) => part.kind === 'jack' && part.role === 'input');
  if (jack?.kind !== 'jack' || model.condition.input === 'shorted') return null;
  const net = model.context.wiring.netAt(`${jack.id}.${jack.terminals[0] ?? ''}`);
  return solver.compiled.netIndex.has(net) ? { kind: 'net', net } : null;
}

function stageFigures(
  state: ConditionState,
  small: SmallSignal,
  input: Stimulus | null,
  element: string,
  netOf: (pin: string) => string,
): StageFigures {
  const ofGrid = (pin: string): Complex => gainFrom(state, small, netOf('grid'), netOf(pin));
  const [anode, cathode] = [ofGrid('anode'), ofGrid('cathode')];
  const output = Math.hypot(...anode) >= Math.hypot(...cathode) ? 'anode' : 'cathode';
  const own = output === 'anode' ? anode : cathode;
  const net = netOf(output);
  const isKnown = input !== null && state.solver.compiled.netIndex.has(net);
  const band = isKnown ? small.passband(input, net, signalHertz) : null;
  return {
    ...{ element, output, gain: Math.hypot(...own), phaseDegrees: degrees(own) },
    fromInput: band?.gain ?? null,
    lowHertz: band?.lowHertz ?? null,
    highHertz: band?.highHertz ?? null,
    outputOhms: small.impedanceBetween(net, state.model.context.wiring.reference, signalHertz)[0],
  };
}

function gainFrom(state: ConditionState, small: SmallSignal, from: string, to: string): Complex {
  const { netIndex } = state.solver.compiled;
  return netIndex.has(from) && netIndex.has(to)
    ? small.transfer({ kind: 'net', net: from }, to, signalHertz)
    : [0, 0];
}

function outputFigures(
  state: ConditionState,
  small: SmallSignal,
  input: Stimulus | null,
  at: string,
  against: string,
  loadOhms: number | null,
): OutputFigures[] {
  const { wiring } = state.model.context;
  const { netIndex } = state.solver.compiled;
  const [plus, minus] = [wiring.netAt(at), wiring.netAt(against)];
  if (!netIndex.has(plus) || (minus !== wiring.reference && !netIndex.has(minus))) return [];
  const own = input && small.transferBetween(input, plus, minus, signalHertz);
  const band = input && small.passband(input, plus, signalHertz, minus);
  const [real, imaginary] = small.impedanceBetween(plus, minus, signalHertz);
  return [
    {
      ...{ at, against, loadOhms },
      gain: band?.gain ?? null,
      phaseDegrees: own && degrees(own),
      lowHertz: band?.lowHertz ?? null,
      highHertz: band?.highHertz ?? null,
      outputOhms: withoutLoad(real, imaginary, loadOhms),
      hum: humAt(state, small, plus, minus),
      clipping: clippingOf(state, small, input, plus, minus, loadOhms),
    },
  ];
}

/** Real part of an impedance whose parallel load is taken away. */
function withoutLoad(real: number, imaginary: number, loadOhms: number | null): number {
  if (loadOhms === null) return real;
  const square = real * real + imaginary * imaginary;
  const [siemens, susceptance] = [real / square - 1 / loadOhms, -imaginary / square];
  return siemens / (siemens * siemens + susceptance * susceptance);
}

function degrees([real, imaginary]: Complex): number {
  return (180 / Math.PI) * Math.atan2(imaginary, real);
}

/** What the output should show for a stated input, both rms. */
export interface ExpectedOutput {
  readonly volts: number;
  readonly watts: number | null;
  /** The output clips before: the figure is not to be reached. */
  readonly isClipped: boolean;
}

/**
 * Expected output for a signal step.
 *
 * @param inputVolts Generator, in volts rms (V).
 */
export function expectedOutput(output: OutputFigures, inputVolts: number): ExpectedOutput | null {
  if (output.gain === null) return null;
  const volts = output.gain * inputVolts;
  const { loadOhms, clipping } = output;
  const limit = clipping.kind === 'found' ? clipping.outputVolts : Infinity;
  return { volts, watts: loadOhms === null ? null : (volts * volts) / loadOhms, isClipped: volts > limit };
}
