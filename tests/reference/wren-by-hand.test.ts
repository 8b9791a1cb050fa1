/**
 * Wren against a netlist written by hand from its lists of parts and leads.
 *
 * Source: `wren-by-hand.cir` in ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0; `.op`
 * and `.ac lin 1 1000 1000` at reltol 1e-6, vntol 1e-8, abstol 1e-14, itl1 300, 27 °C, 1e12 Ω from every node to
 * the reference. The supplies are sources of our own voltage, which `wren-transient.test.ts` checks.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ohmsTests } from '../../shared-core/prediction/meter.ts';
import { ohmsReadings, readOhms } from '../../shared-core/prediction/ohms-readings.ts';
import { signalGain } from '../../shared-core/prediction/predict-condition.ts';
import { nominalWorld } from '../../shared-core/prediction/world.ts';
import { referenceOptions } from '../helpers/netlist.ts';
import { Simulator } from '../helpers/simulator.ts';
import { decibelsAt, expectLike, kitBuilds, nodesOf, ohmsBetween, supplyLines } from './by-hand.ts';
import { editHandNetlist } from './hand-netlist.ts';
import { solveHeron } from './heron.ts';
import { wrenEdits } from './wren-edits.ts';

const builds = kitBuilds('wren');
const plugged = ['lamp-no-valves', 'no-valves', 'running', 'signal', 'listening'];
const cases = builds.flatMap((build) =>
  plugged.map((condition) => ({ build, condition, title: `${condition}, ${build.title}` })),
);
/** Nets of the mains and of the windings. */
const alternating = ['F1.a', 'S1.a2', 'ht-a', 'ht-b', 'heater-ac-a', 'heater-ac-b'];

describe('Wren against a netlist written by hand', () => {
  let simulator: Simulator;
  let worst = 0;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => {
    simulator.close();
    console.log(`Wren by hand: worst node at ${worst.toFixed(3)} of 1e-6 or 10 µV`);
  });

  it.each(cases)('agrees on every node and on both currents drawn: $title', async ({ build, condition }) => {
    const state = solveHeron(build, condition);
    const edits = wrenEdits(build, condition);
    const nodes = nodesOf(state, editHandNetlist({ ...edits, commands: [] }));
    const supply = supplyLines(state, nodes, 'volts');
    expect(supply).toHaveLength(2);
    const text = editHandNetlist({ ...edits, supply, commands: [referenceOptions, '.op'] });
    worst = Math.max(worst, await expectLike(simulator, state, text, alternating));
  });

  it.each(builds)('agrees on the gain of the left channel within 0.001 dB: $title', async (build) => {
    const state = solveHeron(build, 'signal');
    const reading = build.chosen.readings.find(({ id }) => id === 'gain-left')!;
    const edits = wrenEdits(build, 'signal');
    const supply = supplyLines(state, nodesOf(state, editHandNetlist({ ...edits, commands: [] })), 'slope');
    const commands = [referenceOptions, '.ac lin 1 1000 1000'];
    const text = editHandNetlist({ ...edits, supply, commands });
    const byHand = await decibelsAt(simulator, text, 'ts3left_6');
    const ours = 20 * Math.log10(signalGain(state, reading));
    expect(Math.abs(ours - byHand), `${ours} and ${byHand} dB`).toBeLessThan(0.001);
    expect(byHand).toBeGreaterThan(15);
  });

  it.each(builds)('agrees on every computed ohms reading: $title', async (build) => {
    let compared = 0;
    for (const condition of ['cold', 'cold-on']) {
      const state = solveHeron(build, condition);
      const edits = { ...wrenEdits(build, condition), supply: 'cold' } as const;
      const netlist = (commands: readonly string[]): string => editHandNetlist({ ...edits, commands });
      const nodes = nodesOf(state, netlist([]));
      const { wiring } = state.model.context;
      const { readings } = readOhms(state.model, nominalWorld);
      for (const { id, at, against } of ohmsReadings(state.model)) {
        const { ohms } = readings.find((reading) => reading.id === id)!;
        const ends = [nodes.get(wiring.netAt(at))!, nodes.get(wiring.netAt(against))!] as const;
        expect(ends, id).not.toContain(undefined);
        // The meter's own current on its own range: the diodes are in the circuit.
        const { amps } = ohmsTests().find(({ fullScale }) => ohms! <= fullScale)!;
        const theirs = await ohmsBetween(simulator, netlist, ends, amps);
        // The simulator's own tolerance.
        expect(Math.abs(ohms! / theirs - 1), `${id}: ${ohms} and ${theirs}`).toBeLessThan(1e-6);
        compared++;
      }
    }
    expect(compared).toBe(20);
  });
});
