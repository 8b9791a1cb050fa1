import type { Circuit } from './circuit.ts';
import { compileCircuit } from './compile.ts';
import {
  type DrainOutcome,
  type DrainStart,
  findWorst,
  listStores,
  spreadTimes,
  type Store,
  type StoreDrain,
} from './drain.ts';
import { Transient } from './transient.ts';

/** Error of one step in a capacitor's voltage: relative, and absolute in volts (V). Keeps times within 0.1 %. */
const relativeError = 2e-5;
const absoluteError = 5e-4;

/**
 * Lengths of the first step, in seconds (s), too short for anything to drain: the later ones where the first meets the
 * rounding of what is stored in microhenries and picofarads.
 */
const firstSteps = [1e-9, 1e-7, 1e-5];
/** A step cut down to this part of the first will never do. */
const leastStepShare = 1e-5;
const maxSteps = 20_000;
const curvePoints = 120;

/** Stores are followed down to this part of the safe voltage, so that one that rises again is seen. */
const followedPart = 0.5;

export interface NonlinearDrainOptions {
  /** In volts (V). */
  readonly safeVolts: number;
  /** How long to follow at most, in seconds (s). */
  readonly untilSeconds: number;
  /** Conductance from every net to the reference, in siemens (S). */
  readonly gminSiemens?: number;
  /**
   * What changes with time, such as the emission of cooling cathodes: called before each step with the
   * time at its end, in seconds (s), and a function that sets a parameter.
   */
  readonly vary?: (seconds: number, set: (element: string, parameter: string, value: number) => void) => void;
}

/**
 * Drain with everything that conducts: hot valves, diodes, chokes.
 *
 * Implicit integration with error control; times agree with the exact solution of linear circuits within
 * 0.1 %. Voltage sources of the circuit stay as they are: leave the supply out.
 *
 * @param start Voltages at the start; capacitors that are not named start empty.
 */
export function drainNonlinear(
  circuit: Circuit,
  start: DrainStart,
  options: NonlinearDrainOptions,
): DrainOutcome {
  const compiled = compileCircuit(circuit);
  const stores = listStores(compiled).filter((store) => store.plus !== store.minus);
  const transient = new Transient(compiled, options.gminSiemens ?? 1e-12);
  const set = (id: string, name: string, value: number): void => {
    const element = compiled.elements[compiled.elementIndex.get(id) ?? -1];
    const place = element?.device.parameters.findIndex((parameter) => parameter.name === name) ?? -1;
    if (!element || place < 0) throw new Error(`nothing to vary is called ${id} ${name}`);
    element.parameters[place] = value;
    transient.equations.touch(element);
  };
  options.vary?.(0, set);
  const stored = new Float64Array(compiled.size + 1);
  for (const { element, plus, minus, farads } of stores) {
    stored[plus]! += farads * (start[element] ?? 0);
    stored[minus]! -= farads * (start[element] ?? 0);
  }
  let outcome: DrainOutcome | null = null;
  for (const firstStep of firstSteps) {
    const track: Track = { seconds: [0], volts: stores.map((store) => [start[store.element] ?? 0]) };
    const failure = transient.begin(stored, firstStep)
      ? follow(transient, stores, track, options, set, firstStep)
      : 'no starting point';
    outcome = report(stores, start, track, options, failure);
    if (failure === null) break;
  }
  return outcome!;
}

/** Accepted steps: times, and the voltage of each store at them. */
interface Track {
  readonly seconds: number[];
  readonly volts: number[][];
}

function follow(
  transient: Transient,
  stores: readonly Store[],
  track: Track,
  options: NonlinearDrainOptions,
  set: (element: string, parameter: string, value: number) => void,
  firstStep: number,
): string | null {
  let time = firstStep;
  let step = firstStep;
  for (let count = 0; count < maxSteps; count++) {
    const isDone = track.volts.every((each) => Math.abs(each.at(-1)!) <= followedPart * options.safeVolts);
    if (isDone || time >= options.untilSeconds) return null;
    step = Math.min(step, options.untilSeconds - time);
    options.vary?.(time + step, set);
    const error = transient.tryStep(step) ? worstError(transient, stores) : Infinity;
    if (error <= 1) {
      time += step;
      transient.accept();
      track.seconds.push(time);
      stores.forEach(({ plus, minus }, index) => track.volts[index]!.push(transient.trialVolts(plus, minus)));
    } else if (step < firstStep * leastStepShare) return 'the steps became too short';
    step *= error < Infinity ? Math.min(3, Math.max(0.2, 0.85 * Math.max(error, 1e-6) ** (-1 / 3))) : 0.2;
  }
  return 'too many steps';
}

function worstError(transient: Transient, stores: readonly Store[]): number {
  let worst = 0;
  for (const { plus, minus } of stores) {
    const error = Math.abs(transient.error[plus]! - transient.error[minus]!);
    const allowed = absoluteError + relativeError * Math.abs(transient.trialVolts(plus, minus));
    if (!(error / allowed <= worst)) worst = error / allowed;
  }
  return worst;
}

function report(
  stores: readonly Store[],
  start: DrainStart,
  track: Track,
  options: NonlinearDrainOptions,
  failure: string | null,
): DrainOutcome {
  const end = track.seconds.at(-1)!;
  const seconds = end > 0 ? spreadTimes(end / 1e4, end, curvePoints) : [0];
  const drained = stores.map((store, index): StoreDrain => {
    const volts = start[store.element] ?? 0;
    const course = track.volts[index]!;
    return {
      element: store.element,
      volts,
      joules: (store.farads * volts * volts) / 2,
      seconds: failure ? null : lastTimeAbove(track.seconds, course, options.safeVolts),
      curve: seconds.map((time) => interpolate(track.seconds, course, time)),
    };
  });
  return { seconds, stores: drained, worst: findWorst(drained), failure };
}

/** Last time above the limit, between steps as an exponential; null where it still is above at the end. */
function lastTimeAbove(seconds: readonly number[], volts: readonly number[], limit: number): number | null {
  if (Math.abs(volts.at(-1)!) > limit) return null;
  for (let index = volts.length - 2; index >= 0; index--) {
    const [above, below] = [Math.abs(volts[index]!), Math.abs(volts[index + 1]!)];
    if (above <= limit) continue;
    const [from, to] = [seconds[index]!, seconds[index + 1]!];
    const part =
      below > 0 ? Math.log(above / limit) / Math.log(above / below) : (above - limit) / (above - below);
    return from + part * (to - from);
  }
  return 0;
}

/** Voltage at a time: between two steps as an exponential where the sign stays, else as a straight line. */
function interpolate(seconds: readonly number[], volts: readonly number[], time: number): number {
  let [low, high] = [0, seconds.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (seconds[middle]! <= time) low = middle;
    else high = middle;
  }
  const [from, to] = [seconds[low]!, seconds[high]!];
  const [first, last] = [volts[low]!, volts[high]!];
  if (to <= from) return last;
  const part = Math.min(1, Math.max(0, (time - from) / (to - from)));
  return first * last > 0 ? first * (last / first) ** part : first + part * (last - first);
}
