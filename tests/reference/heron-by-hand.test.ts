/**
 * Heron against a netlist written by hand from the circuit diagram.
 *
 * Source: `heron-by-hand.cir` in ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0; `.op`
 * and `.ac lin 1 1000 1000` at reltol 1e-6, vntol 1e-8, abstol 1e-14, itl1 300, 27 °C, 1e12 Ω from every node to
 * the reference. With valves the supply is a source of our own reservoir voltage, which `heron-transient.test.ts` checks.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { acVolts, signalGain } from '../../shared-core/prediction/predict-condition.ts';
import { netlistId, referenceOptions, writeNetlist } from '../helpers/netlist.ts';
import { Simulator, type SimulatorRun } from '../helpers/simulator.ts';
import { handNetlist, placeOfNode } from './hand-netlist.ts';
import { circuitOf, findUnlike, heronBuilds, solveHeron, suppliesOf } from './heron.ts';

/** Nets without direct current: the mains side, the heaters, and the winding that the supply stands for. */
const withoutDirectCurrent = ['F1.a', 'S1.a2', 'ht-a', 'ht-b', 'heater-a', 'heater-b'];
const valved = ['running', 'signal', 'listening'];
const cases = heronBuilds().flatMap((build) =>
  valved.map((condition) => ({ build, condition, title: `${condition}, ${build.mains}` })),
);

describe('Heron against a netlist written by hand', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(cases)('agrees on every node and on the current drawn: $title', async ({ build, condition }) => {
    const state = solveHeron(build, condition);
    const { wiring } = state.model.context;
    const [supply] = suppliesOf(state);
    const volume = condition === 'signal' ? 1 : 0;
    const run = {
      mains: build.mains,
      volume,
      reservoirVolts: supply!.volts,
      commands: [referenceOptions, '.op'],
    };
    const { errors, names, columns } = await simulator.run(handNetlist(run));
    expect(errors).toEqual([]);
    const theirs: Record<string, number> = {};
    names.forEach((name, index) => {
      const place = placeOfNode(/^v\((\w+)\)$/i.exec(name)?.[1]?.toLowerCase() ?? '');
      if (place !== null) theirs[wiring.netAt(place)] = columns[index]![0] as number;
    });
    // Input shorted: its net is the chassis.
    if (wiring.netAt('J1.tip') === wiring.reference) delete theirs[wiring.reference];
    expect([...Object.keys(theirs), ...withoutDirectCurrent].sort()).toEqual(
      [...state.solver.compiled.nets].sort(),
    );
    const amps = -(columns[names.findIndex((name) => name.toLowerCase() === 'i(vb1)')]![0] as number);
    expect(findUnlike((net) => state.volts(net), theirs).unlike).toEqual([]);
    // The simulator's own tolerance of currents at reltol 1e-6.
    expect(Math.abs(supply!.amps / amps - 1)).toBeLessThan(1e-6);
    for (const net of withoutDirectCurrent) expect(Math.abs(state.volts(net))).toBeLessThan(10e-6);
  });

  it.each(heronBuilds())('agrees on every AC reading without valves: $mains', async (build) => {
    const state = solveHeron(build, 'no-valves');
    const run = { mains: build.mains, volume: 0, reservoirVolts: null, commands: [referenceOptions, '.op'] };
    // Without valves the mains side is resistors alone, all in phase: direct volts stand for rms. V1 to V3 are out.
    const text = handNetlist(run)
      .replace(/SIN\(.*\)/, 'DC {vmains}')
      .replaceAll(/^(?:Bv3|Bheaters|Bms|X).*$/gm, '');
    const { errors, names, columns } = await simulator.run(text);
    expect(errors).toEqual([]);
    const readings = build.chosen.readings.filter(
      ({ measure, in: condition }) => measure === 'ac volts' && condition === 'no-valves',
    );
    expect(readings.map(({ at }) => at)).toEqual(['TS1.1', 'TS1.2', 'TS4.1', 'TS4.3']);
    for (const reading of readings) {
      const node = reading.at.toLowerCase().replace('.', '_');
      const index = names.findIndex((name) => name.toLowerCase() === `v(${node})`);
      const expected = Math.abs(columns[index]![0] as number);
      expect(Math.abs(acVolts(state, reading) / expected - 1), reading.id).toBeLessThan(1e-6);
    }
  });

  it.each(heronBuilds())('agrees on the gain at 1 kHz within 0.01 dB: $mains', async (build) => {
    const state = solveHeron(build, 'signal');
    const reading = build.chosen.readings.find(({ measure }) => measure === 'gain')!;
    const ours = 20 * Math.log10(signalGain(state, reading));
    const [supply] = suppliesOf(state);
    const ac = '.ac lin 1 1000 1000';
    const run = {
      mains: build.mains,
      volume: 1,
      reservoirVolts: supply!.volts,
      commands: [referenceOptions, ac],
    };
    const byHand = decibels(await simulator.run(handNetlist(run)), 'v(j2_hot)');
    // The prediction's own circuit; where its supply has a slope of hundreds of ohms beside 3 Ω of reservoir, a
    // source has none: far below the limit.
    const asVolts = { [supply!.id]: supply!.volts };
    const { text, nodes } = writeNetlist(circuitOf(state), [ac], { asVolts, movedSource: '#signal' });
    const node = nodes.get(state.model.context.wiring.netAt(reading.at))!;
    const exported = decibels(await simulator.run(text), `v(${netlistId(node)})`);
    expect(Math.abs(ours - byHand), `${ours} and ${byHand} dB`).toBeLessThan(0.01);
    expect(Math.abs(ours - exported), `${ours} and ${exported} dB`).toBeLessThan(0.01);
    expect(byHand).toBeGreaterThan(30);
  });
});

/** Size of a node's small signal, in decibels (dB) over 1 V. */
function decibels({ errors, names, columns }: SimulatorRun, name: string): number {
  expect(errors).toEqual([]);
  const value = columns[names.findIndex((each) => each.toLowerCase() === name)]?.[0];
  if (value === undefined || typeof value === 'number') throw new Error(`no complex ${name}`);
  return 20 * Math.log10(Math.hypot(value.real, value.img));
}
