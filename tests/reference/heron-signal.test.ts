/**
 * Small signal of Heron against a reference simulator, and its ripple against its own periodic waveform.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.ac lin 1 f f` at the
 * operating point. The averaged supply stands there as its own current with its own slope in parallel.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { SmallSignal } from '../../shared-core/circuit/small-signal.ts';
import { supplyRipple } from '../../shared-core/devices/rectifier-supply.ts';
import { signalId } from '../../shared-core/prediction/condition-model.ts';
import { Simulator } from '../helpers/simulator.ts';
import { heronBuilds, linearSupplies, solveHeron, suppliesOf } from './heron.ts';

const builds = heronBuilds();

describe('small signal of Heron', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(
    builds.flatMap((build) => [20, 1000, 20_000].map((hertz) => ({ build, hertz, mains: build.mains }))),
  )('agrees on every net within 0.001 dB: $hertz Hz, $mains', async ({ build, hertz }) => {
    const state = solveHeron(build, 'signal');
    const small = new SmallSignal(state.solver);
    const theirs = await simulator.smallSignal(linearSupplies(state), signalId, hertz);
    let compared = 0;
    for (const [net, [real, imaginary]] of Object.entries(theirs)) {
      const size = Math.hypot(real, imaginary);
      if (size < 1e-9) continue;
      const own = small.transfer({ kind: 'parameter', element: signalId, name: 'volts' }, net, hertz);
      expect(Math.abs(20 * Math.log10(Math.hypot(...own) / size)), net).toBeLessThan(1e-3);
      // 0.001 dB as an angle.
      const turn = Math.hypot(own[0] - real, own[1] - imaginary) / size;
      expect(turn, net).toBeLessThan(1.2e-4);
      compared++;
    }
    expect(compared).toBeGreaterThan(15);
  });

  it.each(builds)('finds harmonics that make up the whole ripple: $mains', (build) => {
    const state = solveHeron(build, 'running');
    const [supply] = suppliesOf(state);
    const { point, parameters } = state.solver.evaluateElement(supply!.id);
    const ripple = supplyRipple(point, parameters, 40) ?? [];
    const rms = Math.hypot(...ripple.flatMap(({ cosine, sine }) => [cosine, sine])) / Math.SQRT2;
    // Parseval: what the harmonics above the fortieth hold of a near-triangle is below 1e-4.
    expect(Math.abs(rms / supply!.waveform!.rippleVoltsRms - 1)).toBeLessThan(3e-4);
    // Two like phases leave little at the mains frequency itself.
    const size = (order: number): number => Math.hypot(ripple[order - 1]!.cosine, ripple[order - 1]!.sine);
    expect(size(1)).toBeLessThan(0.1 * size(2));
  });
});
