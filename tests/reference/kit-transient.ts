import { expect } from 'vitest';
import type { ChokeWaveform } from '../../shared-core/circuit/supply/choke-shooting.ts';
import type { SupplyWaveform } from '../../shared-core/circuit/supply/waveform.ts';
import type { ConditionState } from '../../shared-core/prediction/condition-model.ts';
import type { Simulator } from '../helpers/simulator.ts';
import { editHandNetlist, type HandEdits, placeOfNode } from './hand-netlist.ts';
import { type Columns, meanBetween, runTransient } from './supplies/transient.ts';

/** A transient of a whole kit, from our own solution. */
export interface WholeRun {
  readonly edits: Omit<HandEdits, 'commands'>;
  readonly state: ConditionState;
  readonly hertz: number;
  /** Nodes where a capacitor's voltage, or a current through a choke's copper, begins; volts of their own where given. */
  readonly startNodes: readonly string[];
  /** What a node starts at beside its mean, in volts (V); 0 for the others. */
  readonly startOffsets: Readonly<Record<string, number>>;
  /** Further nodes at the start, such as mean squares of heaters. */
  readonly startOthers: readonly string[];
  /** Cycles run: long against the slowest time constant that the start leaves off. */
  readonly cycles: number;
}

const stepSeconds = 25e-6;
const options = '.options reltol=1e-5 vntol=1e-7 abstol=1e-10 itl1=300 itl4=100 gmin=1e-12 temp=27';

/** What a run gives. */
export interface WholeResult {
  readonly run: Columns;
  /** Mean of a node over a whole cycle, the last or one further back, in volts (V). */
  readonly mean: (values: readonly number[], back?: number) => number;
  /** Root of the mean square over the last cycle. */
  readonly rms: (values: readonly number[]) => number;
  /** Peak to peak over the last cycle. */
  readonly swing: (values: readonly number[]) => number;
}

/** Runs the whole kit and keeps its last cycles. */
export async function runWhole(simulator: Simulator, whole: WholeRun): Promise<WholeResult> {
  const { state, hertz, cycles } = whole;
  const { wiring } = state.model.context;
  const end = cycles / hertz;
  const start = whole.startNodes.map((node) => {
    const volts = state.volts(wiring.netAt(placeOfNode(node)!)) + (whole.startOffsets[node] ?? 0);
    return `v(${node})=${volts}`;
  });
  const text = editHandNetlist({
    ...whole.edits,
    commands: [
      options,
      `.ic ${[...start, ...whole.startOthers].join(' ')}`,
      `.tran ${stepSeconds} ${end} ${end - 2.5 / hertz} ${stepSeconds}`,
    ],
  });
  const run = await runTransient(simulator, text, ['time', ...whole.startNodes.map((node) => `v(${node})`)]);
  const times = run.get('time')!;
  expect(times.at(-1)).toBeCloseTo(end, 9);
  const mean = (values: readonly number[], back = 1): number =>
    meanBetween(times, values, end - back / hertz, end - (back - 1) / hertz);
  return {
    ...{ run, mean },
    rms: (values) => Math.sqrt(mean(values.map((value) => value * value))),
    swing: (values) => {
      const last = values.filter((_, index) => times[index]! >= end - 1 / hertz);
      return Math.max(...last) - Math.min(...last);
    },
  };
}

/**
 * Nodes whose mean is not ours within a share, or 0.5 mV; `drift` is how far they still move in a cycle.
 *
 * @param isLeftOut Nodes without a DC figure.
 */
export function findUnlikeMeans(
  { run, mean }: WholeResult,
  { state }: WholeRun,
  share: number,
  isLeftOut: (place: string) => boolean,
): { readonly unlike: readonly string[]; readonly worst: number; readonly compared: number } {
  const { wiring } = state.model.context;
  const unlike: string[] = [];
  let [worst, compared] = [0, 0];
  for (const [name, values] of run) {
    const place = placeOfNode(/^v\((\w+)\)$/.exec(name)?.[1] ?? '');
    if (place === null || state.supplies.alternating.has(wiring.netAt(place)) || isLeftOut(place)) continue;
    const expected = mean(values);
    const allowed = Math.max(share * Math.abs(expected), 0.5e-3);
    // Periodic: a cycle moves nothing by more than a tenth of what is allowed.
    expect(Math.abs(expected - mean(values, 2)), place).toBeLessThan(allowed / 10);
    const ours = state.volts(wiring.netAt(place));
    const off = Math.abs(ours - expected);
    if (!(off <= allowed)) unlike.push(`${place}: ${ours} and ${expected}`);
    worst = Math.max(worst, off / Math.max(Math.abs(expected), 0.5e-3 / share));
    compared++;
  }
  return { unlike, worst, compared };
}

/** Voltage of a reservoir above its mean, or of the capacitor behind a choke, where the mains crosses zero (V). */
export function startAboveMean({ startVolts, meanVolts }: SupplyWaveform): number {
  return startVolts - meanVolts;
}

/** Whether a waveform is a choke's. */
export function isChoke(waveform: SupplyWaveform | null | undefined): waveform is ChokeWaveform {
  return !!waveform && 'chokeAmps' in waveform;
}
