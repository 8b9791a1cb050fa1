/**
 * Curlew against a netlist written by hand from its lists of parts and leads.
 *
 * Source: `curlew-by-hand.cir` in ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0; `.op`
 * and `.ac lin 1 1000 1000` at reltol 1e-6, vntol 1e-8, abstol 1e-14, itl1 300, 27 °C, 1e12 Ω from every node to
 * the reference. The supplies are sources of our own voltage, which `curlew-transient.test.ts` checks.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ohmsTests } from '../../shared-core/prediction/meter.ts';
import { ohmsReadings, readOhms } from '../../shared-core/prediction/ohms-readings.ts';
import { signalGain } from '../../shared-core/prediction/predict-condition.ts';
import { nominalWorld } from '../../shared-core/prediction/world.ts';
import { referenceOptions } from '../helpers/netlist.ts';
import { Simulator } from '../helpers/simulator.ts';
import { decibelsAt, expectLike, kitBuilds, nodesOf, ohmsBetween, supplyLines } from './by-hand.ts';
import { curlewCopper, curlewEdits } from './curlew-edits.ts';
import { editHandNetlist } from './hand-netlist.ts';
import { solveHeron } from './heron.ts';

const builds = kitBuilds('curlew');
/** With the number of supplies at work: the bias alone, or the high tension too. */
const plugged = [
  ['lamp-no-valves', 1],
  ['no-valves', 1],
  ['rectifier', 2],
  ['standby', 1],
  ['quiet', 2],
  ['running', 2],
  ['signal', 2],
  ['listening', 2],
] as const;
const cases = builds.flatMap((build) =>
  plugged.map(([condition, supplies]) => ({
    ...{ build, condition, supplies },
    title: `${condition}, ${build.title}`,
  })),
);

describe('Curlew against a netlist written by hand', () => {
  let simulator: Simulator;
  let worst = 0;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => {
    simulator.close();
    console.log(`Curlew by hand: worst node at ${worst.toFixed(3)} of 1e-6 or 10 µV`);
  });

  it.each(cases)('agrees on every node and current: $title', async ({ build, condition, supplies }) => {
    const state = solveHeron(build, condition);
    const edits = curlewEdits(build, condition);
    const nodes = nodesOf(state, editHandNetlist({ ...edits, commands: [] }));
    const supply = supplyLines(state, nodes, 'volts');
    expect(supply).toHaveLength(supplies);
    const commands = [referenceOptions, '.op'];
    const text = editHandNetlist({ ...edits, supply: [...supply, ...curlewCopper], commands });
    const alternating = ['F1.a', 'S1.a2', 'heater-a', 'heater-b', 'T1.bias.a', 'ht-a', 'ht-b'];
    if (condition === 'standby') alternating.push('S2.b1', 'S2.b2');
    worst = Math.max(worst, await expectLike(simulator, state, text, alternating));
  });

  it.each(builds)('agrees on the gain within 0.001 dB: $title', async (build) => {
    const state = solveHeron(build, 'signal');
    const reading = build.chosen.readings.find(({ measure }) => measure === 'gain')!;
    const edits = curlewEdits(build, 'signal');
    const nodes = nodesOf(state, editHandNetlist({ ...edits, commands: [] }));
    const supply = [...supplyLines(state, nodes, 'slope'), ...curlewCopper];
    const commands = [referenceOptions, '.ac lin 1 1000 1000'];
    const byHand = await decibelsAt(simulator, editHandNetlist({ ...edits, supply, commands }), 'j2_hot');
    const ours = 20 * Math.log10(signalGain(state, reading));
    expect(Math.abs(ours - byHand), `${ours} and ${byHand} dB`).toBeLessThan(0.001);
    expect(byHand).toBeGreaterThan(25);
  });

  it.each(builds)('agrees on every computed ohms reading: $title', async (build) => {
    let compared = 0;
    for (const condition of ['cold', 'cold-standby', 'cold-on']) {
      const state = solveHeron(build, condition);
      const edits = { ...curlewEdits(build, condition), supply: 'cold' } as const;
      const netlist = (commands: readonly string[]): string => editHandNetlist({ ...edits, commands });
      const nodes = nodesOf(state, netlist([]));
      const { wiring } = state.model.context;
      const { readings } = readOhms(state.model, nominalWorld);
      for (const { id, at, against } of ohmsReadings(state.model)) {
        const { ohms } = readings.find((reading) => reading.id === id)!;
        const ends = [nodes.get(wiring.netAt(at))!, nodes.get(wiring.netAt(against))!] as const;
        expect(ends, id).not.toContain(undefined);
        // The meter's own current on its own range: the diode is in the circuit.
        const { amps } = ohmsTests().find(({ fullScale }) => ohms! <= fullScale)!;
        const theirs = await ohmsBetween(simulator, netlist, ends, amps);
        // The simulator's own tolerance.
        expect(Math.abs(ohms! / theirs - 1), `${id}: ${ohms} and ${theirs}`).toBeLessThan(1e-6);
        compared++;
      }
    }
    expect(compared).toBe(30);
  });
});
