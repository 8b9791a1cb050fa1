/**
 * The whole of Curlew against a periodic transient: heaters and bias on one transformer, the choke-input high tension
 * on the other, all valves, from the mains to the loudspeaker.
 *
 * Source: `curlew-by-hand.cir` in ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0:
 * `.tran 25u` from our own solution with reltol 1e-5, vntol 1e-7, abstol 1e-10, itl4 100, 27 °C, 1e12 Ω from every
 * node to the reference; means over the last whole mains cycle.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SmallSignal } from '../../shared-core/circuit/small-signal.ts';
import { humAt } from '../../shared-core/prediction/hum.ts';
import { Simulator } from '../helpers/simulator.ts';
import { kitBuilds } from './by-hand.ts';
import { curlewEdits } from './curlew-edits.ts';
import { solveHeron } from './heron.ts';
import { findUnlikeMeans, isChoke, runWhole, startAboveMean, type WholeRun } from './kit-transient.ts';

const startNodes = [
  ...['ts1_4', 'ts1_5', 'ts1_6', 'v6_8', 'ts5_2', 'ts5_3', 'v1_6', 'ts3_2', 'ts3_7', 'ts3_8'],
  ...['ts5_9', 'ts5_10', 'ts5_11', 'ts5_12', 'v2_3', 'v4_3'],
];

describe('the whole of Curlew against a periodic transient', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(kitBuilds('curlew'))('agrees on every mean within 0.3 %: $title', async (build) => {
    const state = solveHeron(build, 'running');
    const choke = state.waveforms.find(isChoke)!;
    const bias = state.waveforms.find((waveform) => waveform && !isChoke(waveform))!;
    const square = (id: string): number => state.mains.heaterVolts[id]! ** 2;
    const [behind, startAmps] = [startAboveMean(choke), choke.startAmps];
    const { wiring } = state.model.context;
    const restVolts = state.volts(wiring.netAt('V6.8')) - state.volts(wiring.netAt('TS1.4'));
    const whole: WholeRun = {
      ...{
        edits: curlewEdits(build, 'running'),
        state,
        hertz: build.bench.mains.hertz,
        startNodes,
        cycles: 40,
      },
      // The choke's copper, 60 Ω, sets its current at the start.
      startOffsets: {
        ts1_4: behind,
        v6_8: behind + 60 * startAmps - restVolts,
        ts5_2: -startAboveMean(bias),
      },
      startOthers: [`v(ms)=${square('V2#heater1')}`, `v(ms6)=${square('V6#heater1')}`],
    };
    const result = await runWhole(simulator, whole);
    const { unlike, worst, compared } = findUnlikeMeans(
      result,
      whole,
      3e-3,
      // Windings and heater lines alternate.
      (place) => /^(?:inlet|TS4|V6\.2|TS5\.1$|TS1\.[12]$)/.test(place),
    );
    console.log(`Curlew, ${build.title}: worst mean ${(100 * worst).toFixed(4)} %`);
    expect(unlike).toEqual([]);
    expect(compared).toBe(46);
    const { run, mean, swing, rms } = result;
    const hum = humAt(state, new SmallSignal(state.solver), wiring.netAt('J2.hot'), wiring.netAt('J2.cold'))!;
    const output = run.get('v(j2_hot)')!;
    const middle = mean(output);
    const heard = rms(output.map((volts) => volts - middle));
    console.log(`Curlew, ${build.title}: hum ${hum.volts} V, in the transient ${heard} V`);
    expect(Math.abs(hum.volts / heard - 1)).toBeLessThan(1e-2);
    expect(Math.abs(choke.rippleVolts / swing(run.get('v(ts1_4)')!) - 1)).toBeLessThan(1e-2);
    expect(Math.abs(bias.rippleVolts / swing(run.get('v(ts5_2)')!) - 1)).toBeLessThan(1e-2);
    for (const [node, net] of [
      ['ts4_1', 'heater-a'],
      ['ts4_3', 'heater-b'],
      ['ts1_1', 'ht-a'],
      ['ts1_2', 'ht-b'],
    ] as const) {
      const expected = rms(run.get(`v(${node})`)!);
      expect(Math.abs(Math.abs(state.mains.volts(net)) / expected - 1), net).toBeLessThan(1e-3);
    }
  });
});
