/**
 * The whole of Heron against a periodic transient, from the mains to the loudspeaker.
 *
 * Source: `heron-by-hand.cir` (transformer, heaters as filaments, both anodes of the rectifier, all valves) in
 * ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0: `.tran 25u` from our own solution with
 * reltol 1e-5, vntol 1e-7, abstol 1e-10, itl4 100, 27 °C, 1e12 Ω from every node to the reference; means over
 * the last whole mains cycle.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Simulator } from '../helpers/simulator.ts';
import { handNetlist, placeOfNode } from './hand-netlist.ts';
import { type HeronBuild, heronBuilds, solveHeron, suppliesOf } from './heron.ts';
import { meanBetween, runTransient } from './supplies/transient.ts';

/** Cycles run, the last two of them kept: long against the slowest time constant that the start leaves off. */
const cycles = 40;
const stepSeconds = 25e-6;
const options = '.options reltol=1e-5 vntol=1e-7 abstol=1e-10 itl1=300 itl4=100 gmin=1e-12 temp=27';

/** Nodes where a capacitor's voltage begins. */
const startNodes = [
  ...['ts1_3', 'ts1_5', 'ts1_6', 'ts3_2', 'v1_6', 'ts3_3', 'v1_3', 'ts3_6', 'ts3_7', 'v2_7'],
] as const;

describe('the whole of Heron against a periodic transient', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(heronBuilds())('agrees on every mean, ripple and rms: $mains', async (build) => {
    const { hertz } = build.bench.mains;
    const state = solveHeron(build, 'running');
    const waveform = suppliesOf(state)[0]!.waveform!;
    const end = cycles / hertz;
    const run = await runTransient(simulator, transientNetlist(build, end), ['time', ...startNodes.map(vOf)]);
    const times = run.get('time')!;
    expect(times.at(-1)).toBeCloseTo(end, 9);
    const mean = (values: readonly number[], back = 1): number =>
      meanBetween(times, values, end - back / hertz, end - (back - 1) / hertz);
    const { wiring } = state.model.context;
    const unlike: string[] = [];
    let compared = 0;
    for (const [name, values] of run) {
      const node = /^v\((\w+)\)$/.exec(name)?.[1] ?? '';
      const place = placeOfNode(node);
      // Alternating: nets of the winding and of the rectifier's anodes have no DC figure.
      if (place === null || state.supplies.alternating.has(wiring.netAt(place)) || place.startsWith('V3.')) {
        continue;
      }
      const expected = mean(values);
      // Periodic: a cycle moves nothing by more than a tenth of what is allowed below.
      expect(Math.abs(expected - mean(values, 2)), place).toBeLessThan(Math.max(5e-5 * expected, 5e-5));
      const ours = state.volts(wiring.netAt(place));
      const allowed = Math.max(5e-4 * Math.abs(expected), 0.5e-3);
      if (!(Math.abs(ours - expected) <= allowed)) unlike.push(`${place}: ${ours} and ${expected}`);
      compared++;
    }
    expect(unlike).toEqual([]);
    expect(compared).toBeGreaterThanOrEqual(18);

    const last = run.get('v(ts1_3)')!.filter((_, index) => times[index]! >= end - 1 / hertz);
    const ripple = Math.max(...last) - Math.min(...last);
    // Samples are 25 µs apart: the turning points are missed by a millivolt or so.
    expect(Math.abs(waveform.rippleVolts / ripple - 1)).toBeLessThan(5e-4);
    for (const [node, net] of [
      ['ts1_1', 'ht-a'],
      ['ts1_2', 'ht-b'],
      ['ts4_1', 'heater-a'],
      ['ts4_3', 'heater-b'],
    ] as const) {
      const rms = Math.sqrt(mean(run.get(vOf(node))!.map((value) => value * value)));
      expect(Math.abs(Math.abs(state.mains.volts(net)) / rms - 1), net).toBeLessThan(5e-4);
    }
  });
});

function vOf(node: string): string {
  return `v(${node})`;
}

/** The netlist with every capacitor where our own solution has it, the reservoir where the mains crosses zero. */
function transientNetlist(build: HeronBuild, end: number): string {
  const state = solveHeron(build, 'running');
  const { wiring } = state.model.context;
  const { waveform } = suppliesOf(state)[0]!;
  const start = startNodes.map((node) => {
    const volts = state.volts(wiring.netAt(placeOfNode(node)!));
    return `v(${node})=${node === 'ts1_3' ? waveform!.startVolts : volts}`;
  });
  const heaterVolts = state.mains.heaterVolts['V2#heater1']!;
  return handNetlist({
    ...{ mains: build.mains, volume: 0, reservoirVolts: null },
    commands: [
      options,
      `.ic ${start.join(' ')} v(ms)=${heaterVolts ** 2}`,
      `.tran ${stepSeconds} ${end} ${end - 2.5 / build.bench.mains.hertz} ${stepSeconds}`,
    ],
  });
}
