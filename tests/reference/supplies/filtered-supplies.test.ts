/**
 * Choke-input supplies, doublers and pumped bias supplies against a periodic transient.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.tran … uic` over 40 to
 * 100 cycles with steps of at most 1/1000 cycle from our own periodic state, reltol 1e-6, vntol 1e-8,
 * abstol 1e-14, 27 °C, on the netlists of `islandNetlist`: ideal transformer with its copper, diodes by
 * `.model d`, valves by I = G·V^1.5, 20 pF and 20 MΩ across a choke, 10 pF and 1 GΩ on a winding's ends.
 */
import { afterAll, describe, expect, test } from 'vitest';
import type { ChokeWaveform } from '../../../shared-core/circuit/supply/choke-shooting.ts';
import { Simulator } from '../../helpers/simulator.ts';
import {
  chokeCases,
  chokeSharingCases,
  doublerCases,
  type IslandCase,
  sharingCases,
} from './island-cases.ts';
import { islandNetlist, type SolvedIsland, solveIsland, startOf } from './island-circuit.ts';
import { meanBetween, runTransient, tightOptions } from './transient.ts';

const stepsPerCycle = 1000;

describe('against a periodic transient', () => {
  const simulator = new Simulator();
  const worst = new Map<string, number>();
  afterAll(() => {
    simulator.close();
    for (const [kind, share] of worst) console.log(`${kind}: worst mean ${(100 * share).toFixed(4)} %`);
  });

  async function compare(kind: string, of: IslandCase, rippleWithin = 2e-3): Promise<SolvedIsland> {
    const ours = solveIsland(of);
    expect(ours.solver.outcome).toMatchObject({ converged: true, failure: null });
    expect(ours.solver.outcome.rounds).toBeLessThanOrEqual(9);
    const step = 1 / of.hertz / stepsPerCycle;
    const text = islandNetlist(of, ours.transformer, (id) => startOf(of, ours, id), tightOptions, step);
    const run = await runTransient(simulator, text, ['time', ...of.outputs.map((net) => `v(${net})`)]);
    const times = run.get('time')!;
    const end = of.cycles / of.hertz;
    // The simulator gives up quietly where its step gets too small.
    expect(times.at(-1)).toBeCloseTo(end, 9);
    for (const net of of.outputs) {
      const values = run.get(`v(${net})`)!;
      const volts = meanBetween(times, values, end - 1 / of.hertz, end);
      const before = meanBetween(times, values, end - 2 / of.hertz, end - 1 / of.hertz);
      // Periodic: what still drifts in a cycle is far less than the tolerance below.
      expect(Math.abs(volts / before - 1)).toBeLessThan(2e-5);
      const share = Math.abs(ours.solver.volts(net) / volts - 1);
      worst.set(kind, Math.max(share, worst.get(kind) ?? 0));
      // Asked for are 0.3 %; what the shooting reaches is a tenth of that: the stray parts of the netlist
      // and, in a bridge into a choke, the copper that both paths share where they overlap.
      expect(share, `${net}: ${ours.solver.volts(net)} and ${volts}`).toBeLessThan(4e-4);
    }
    const main = of.outputs[0]!;
    const last = run.get(`v(${main})`)!.filter((_, index) => times[index]! >= end - 1 / of.hertz);
    const ripple = Math.max(...last) - Math.min(...last);
    // Samples miss the turning points; the stray parts move a small ripple.
    expect(Math.abs(ours.waveforms[0]!.rippleVolts / ripple - 1)).toBeLessThan(rippleWithin);
    return ours;
  }

  test.each(chokeCases)('choke input: $title', async (of) => {
    const ours = await compare('choke input', of);
    const [least] = (ours.waveforms[0] as ChokeWaveform).chokeAmps;
    // What the title says about the current, from the waveform.
    expect(least === 0).toBe(/ceases|below the critical|half-wave/.test(of.title));
  });

  test.each(sharingCases)('two on one transformer: $title', async (of) => {
    // The ripple is the supply's own, as if alone: at the same current the others' pulses widen its own.
    const ours = await compare('two on one transformer', of, 1e-2);
    for (const [index, supply] of ours.supplies.entries()) {
      const { device, parameters } = ours.solver.element(`supply${index}`);
      const sag = parameters[device.parameters.findIndex(({ name }) => name === 'sagVolts')]!;
      expect(sag, `${supply.plus} sags`).toBeGreaterThan(0);
    }
  });

  test.each(chokeSharingCases)('choke and capacitor input on one transformer: $title', async (of) => {
    const ours = await compare('choke beside capacitor input', of, 1e-2);
    const sags = ours.supplies.flatMap((_, index) => {
      const { device, parameters } = ours.solver.element(`supply${index}`);
      return parameters[device.parameters.findIndex(({ name }) => name === 'sagVolts')] ?? [];
    });
    // The bias alone sags: by 0.23 · 1.96 turns, 5.5 Ω and 0.17 A.
    expect(sags).toHaveLength(1);
    expect(sags[0]).toBeGreaterThan(0.3);
    expect(sags[0]).toBeLessThan(0.5);
  });

  test.each(doublerCases)('$title', async (of) => {
    const ours = await compare(of.title.split(' ')[0] === 'bias' ? 'pumped bias' : 'doubler', of);
    // Over a cycle each rectifier carries what the load takes; bleeders make one carry a little less.
    const { phases, loadAmps } = ours.waveforms[0]!;
    expect(Math.max(...phases.map(({ meanAmps }) => meanAmps)) / loadAmps).toBeCloseTo(1, 4);
  });
});
