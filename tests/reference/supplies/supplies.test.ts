/**
 * Averaged rectifier supplies against a periodic transient.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.tran` over 10 or 24 cycles with
 * steps of at most 1/1000 cycle from our own periodic state, reltol 1e-6, vntol 1e-8, abstol 1e-14, 27 °C, on the netlists of `transientNetlist`:
 * ideal transformer with its copper, diodes by `.model d`, valves by I = G·V^1.5. Volts and amperes.
 */
import { afterAll, describe, expect, test } from 'vitest';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { loadedWindings } from '../../../shared-core/circuit/supply/loaded-windings.ts';
import type { SupplyWaveform } from '../../../shared-core/circuit/supply/waveform.ts';
import { supplyWaveform } from '../../../shared-core/devices/rectifier-supply.ts';
import { Simulator } from '../../helpers/simulator.ts';
import { type SupplyCase, supplyCases } from './supply-cases.ts';
import { type BuiltSupply, buildSupply, transientNetlist } from './supply-circuit.ts';
import { meanBetween, type Columns, tightOptions, runTransient } from './transient.ts';

/** Started from our own periodic state, a supply that agrees stays there; a choke is started without its ripple. */
const cyclesOf = (of: SupplyCase): number => (of.filterHenries > 0 ? 24 : 10);
const stepsPerCycle = 1000;

interface Ours extends BuiltSupply {
  readonly volts: number;
  readonly filteredVolts: number;
  readonly plainVolts: number;
  readonly rounds: number;
  readonly waveform: SupplyWaveform;
}

function predict(of: SupplyCase): Ours {
  const built = buildSupply(of);
  const plain = new Solver(built.circuit, { maxRounds: 0 });
  plain.solve();
  const solver = new Solver(built.circuit);
  expect(solver.solve()).toMatchObject({ converged: true, failure: null });
  const { point, parameters } = solver.evaluateElement('supply');
  return {
    ...built,
    volts: solver.volts('b1'),
    filteredVolts: solver.volts('b2'),
    plainVolts: plain.volts('b1'),
    rounds: solver.outcome.rounds,
    waveform: supplyWaveform(point, parameters)!,
  };
}

describe('against a periodic transient', () => {
  const simulator = new Simulator();
  afterAll(() => simulator.close());

  test.each(supplyCases)('$title', async (of) => {
    const ours = predict(of);
    const cycles = cyclesOf(of);
    const start = [ours.waveform.startVolts, filterStart(ours, of)] as const;
    const step = 1 / of.hertz / stepsPerCycle;
    const text = transientNetlist(of, ours.transformer, start, tightOptions, cycles, step);
    const run = await runTransient(simulator, text, ['time', 'v(b1)', 'v(a)', 'i(vm)', 'i(vw0)']);
    const times = run.get('time')!;
    const end = cycles / of.hertz;
    const mean = (values: readonly number[], back = 1) =>
      meanBetween(times, values, end - back / of.hertz, end - (back - 1) / of.hertz);
    const rms = (values: readonly number[]) => Math.sqrt(mean(values.map((value) => value * value)));
    const reservoir = run.get('v(b1)')!;
    const volts = mean(reservoir);
    // The simulator gives up quietly where its step gets too small.
    expect(times.at(-1)).toBeCloseTo(end, 9);
    // Periodic: what still drifts in a cycle is far less than the tolerance below.
    expect(Math.abs(volts - mean(reservoir, 2))).toBeLessThan(1e-4);
    const allowed = Math.max(0.0005 * volts, 0.5e-3);
    expect(Math.abs(ours.volts - volts), `${ours.volts} and ${volts}`).toBeLessThan(allowed);
    // What the shooting reaches; a slip in its load or its laws shows here first.
    expect(Math.abs(ours.volts / volts - 1)).toBeLessThan(1e-5);
    expect(ours.plainVolts).toBeGreaterThan(ours.volts);
    expect(ours.rounds).toBeLessThanOrEqual(8);
    compareRipple(ours, of, run, end);
    compareWindings(ours, of, run, rms);
  });
});

/** Voltage of the filter capacitor at the start of the cycle, in volts (V). */
function filterStart({ waveform, filteredVolts }: Ours, of: SupplyCase): number {
  if (of.filterHenries > 0) return filteredVolts;
  // The late branch follows v with the filter's own time constant; the capacitor does so in the load's share.
  const share = of.loadOhms / (of.loadOhms + of.filterOhms);
  return filteredVolts + share * (waveform.startLateVolts - waveform.meanVolts);
}

/** Samples of the last cycle. */
function lastCycle(run: Columns, name: string, from: number): readonly number[] {
  const times = run.get('time')!;
  return run.get(name)!.filter((_, index) => times[index]! >= from);
}

/** Ripple and peaks: the simulator's samples miss the turning points by up to half a step. */
function compareRipple({ waveform }: Ours, of: SupplyCase, run: Columns, end: number): void {
  const reservoir = lastCycle(run, 'v(b1)', end - 1 / of.hertz);
  const ripple = Math.max(...reservoir) - Math.min(...reservoir);
  expect(Math.abs(waveform.rippleVolts / ripple - 1)).toBeLessThan(5e-4);
  const current = lastCycle(run, 'i(vw0)', end - 1 / of.hertz);
  expect(Math.abs(waveform.phases[0].peakAmps / Math.max(...current) - 1)).toBeLessThan(2e-3);
}

/** What a true-rms meter shows on the windings, the heater and in the primary lead. */
function compareWindings(
  ours: Ours,
  of: SupplyCase,
  run: Columns,
  rms: (values: readonly number[]) => number,
): void {
  const isShared = of.form === 'bridge';
  const pieces = ours.supply.pieces;
  const windings = loadedWindings(
    ours.transformer,
    ours.core,
    ours.waveform,
    { pieces, isShared },
    ours.loads,
  );
  const [a, b] = [run.get('v(a)')!, run.get('v(b)')];
  const near = (value: number, reference: number, rel: number) =>
    expect(Math.abs(value / reference - 1), `${value} and ${reference}`).toBeLessThan(rel);
  near(windings.phaseVolts[0], rms(isShared ? a.map((value, index) => value - b![index]!) : a), 2e-6);
  if (of.form === 'centre-tap') near(windings.phaseVolts[1], rms(b!), 2e-6);
  if (ours.loads.length > 0) near(windings.loadVolts[0]!, rms(run.get('v(heat)')!), 2e-6);
  // Pulses of a light load are a few dozen samples wide; a stray capacitance and leakage add microamperes.
  near(windings.primaryAmps, rms(run.get('i(vm)')!), 5e-4);
}
