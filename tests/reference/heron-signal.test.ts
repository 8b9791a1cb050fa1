/**
 * Small signal of Heron against a reference simulator, and its ripple against its own periodic waveform.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.ac lin 1 f f` at the
 * operating point. The averaged supply stands there as its own current with its own slope in parallel.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Circuit, CircuitElement } from '../../shared-core/circuit/circuit.ts';
import { SmallSignal } from '../../shared-core/circuit/small-signal.ts';
import { currentSource } from '../../shared-core/devices/current-source.ts';
import { supplyRipple } from '../../shared-core/devices/rectifier-supply.ts';
import { resistor } from '../../shared-core/devices/resistor.ts';
import { signalId, type ConditionState } from '../../shared-core/prediction/condition-model.ts';
import { Simulator } from '../helpers/simulator.ts';
import { circuitOf, heronBuilds, solveHeron, suppliesOf } from './heron.ts';

const builds = heronBuilds();

/** The circuit with every averaged supply made linear where it stands. */
function linearSupplies(state: ConditionState): Circuit {
  const circuit = circuitOf(state);
  const ids = new Set(suppliesOf(state).map(({ id }) => id));
  return {
    ...circuit,
    elements: circuit.elements.flatMap((each): CircuitElement[] => {
      if (!ids.has(each.id)) return [each];
      const { stamp } = state.solver.evaluateElement(each.id);
      const [amps, siemens] = [stamp.residuals[0]!, stamp.derivatives[0]!];
      const [plus, minus] = each.nets;
      const volts = state.solver.volts(plus!) - state.solver.volts(minus!);
      return [
        { ...each, id: 'slope', device: resistor, parameters: { ohms: 1 / siemens } },
        { ...each, id: 'flow', device: currentSource, parameters: { amps: amps - siemens * volts } },
      ];
    }),
  };
}

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
