/**
 * The whole of Wren against a periodic transient: both bridges on one transformer, all valves, from the mains on.
 *
 * Source: `wren-by-hand.cir` in ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0:
 * `.tran 25u` from our own solution with reltol 1e-5, vntol 1e-7, abstol 1e-10, itl4 100, 27 °C, 1e12 Ω from every
 * node to the reference; means over the last whole mains cycle.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Simulator } from '../helpers/simulator.ts';
import { kitBuilds } from './by-hand.ts';
import { solveHeron } from './heron.ts';
import { findUnlikeMeans, runWhole, startAboveMean, type WholeRun } from './kit-transient.ts';
import { wrenEdits } from './wren-edits.ts';

const startNodes = [
  ...['ts1_3', 'ts1_4', 'ts4_3', 'ts4_4'],
  ...['left', 'right'].flatMap((side) => [
    ...[`ts3${side}_2`, `v1${side}_6`, `ts3${side}_3`, `v1${side}_3`, `ts3${side}_6`],
  ]),
];

describe('the whole of Wren against a periodic transient', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(kitBuilds('wren'))('agrees on every mean within 0.05 % or 0.5 mV: $title', async (build) => {
    const state = solveHeron(build, 'running');
    const [high, heaters] = state.waveforms;
    const whole: WholeRun = {
      ...{
        edits: wrenEdits(build, 'running'),
        state,
        hertz: build.bench.mains.hertz,
        startNodes,
        cycles: 40,
      },
      startOffsets: { ts1_3: startAboveMean(high!), ts4_3: startAboveMean(heaters!) },
      startOthers: [],
    };
    const result = await runWhole(simulator, whole);
    const { unlike, worst, compared } = findUnlikeMeans(result, whole, 5e-4, (place) =>
      place.startsWith('inlet.'),
    );
    console.log(`Wren, ${build.title}: worst mean ${(100 * worst).toFixed(4)} %`);
    expect(unlike).toEqual([]);
    expect(compared).toBe(28);
    const { run, swing } = result;
    // Our ripple is that of each bridge as if alone; the pulses of the other make its own longer: by up to 2.5 %.
    expect(Math.abs(high!.rippleVolts / swing(run.get('v(ts1_3)')!) - 1)).toBeLessThan(3e-2);
    expect(Math.abs(heaters!.rippleVolts / swing(run.get('v(ts4_3)')!) - 1)).toBeLessThan(3e-2);
  });
});
