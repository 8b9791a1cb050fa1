/**
 * A single-ended output stage with its screen on a tap of the primary, against a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` and `.ac lin 1 f f` at reltol
 * 1e-6, vntol 1e-8, abstol 1e-14, 27 °C; the transformer as three coupled inductors with their copper.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { plainBench } from '../../shared-core/prediction/bench.ts';
import { openCondition, signalId, solveCondition } from '../../shared-core/prediction/condition-model.ts';
import { nominalWorld } from '../../shared-core/prediction/world.ts';
import { SmallSignal } from '../../shared-core/circuit/small-signal.ts';
import { Simulator } from '../helpers/simulator.ts';
import { halfWaveKit, resistorOf } from '../shared-core/prediction/half-wave-kit.ts';
import { asStated } from '../shared-core/prediction/heron.ts';
import { circuitOf, findUnlike, linearSupplies, simulatePoint, suppliesOf } from './heron.ts';

/** An EL84 with its screen on the tap at 43 %; heater on a winding of its own is left out. */
const kit = halfWaveKit(
  [
    {
      ...{ kind: 'output-transformer', id: 'T2', primaryOhms: 7000, secondaryOhms: 8, primaryDcrOhms: 250 },
      ...{ secondaryDcrOhms: 0.6, primaryHenries: 25, screenTaps: 0.43, watts: 10, maxPrimaryAmps: 0.08 },
      tolerance: { low: -0.1, high: 0.1 },
    },
    { kind: 'valve', id: 'V1', type: 'EL84', socket: { base: 'B9A', gapFaces: 0, mounted: 'chassis' } },
    { kind: 'jack', id: 'J1', role: 'input', terminals: ['tip', 'sleeve'] },
    { kind: 'jack', id: 'J2', role: 'output', terminals: ['hot', 'cold'] },
    resistorOf('R1', 270, 'V1.3', 'TS1.8'),
    resistorOf('R2', 470e3, 'V1.2', 'TS1.8'),
    resistorOf('R3', 100, 'TS1.4', 'V1.9'),
  ],
  {
    leads: [
      ['T2.primary.a', 'TS1.1'],
      ['T2.primary.b', 'V1.7'],
      ['T2.primary.tap', 'TS1.4'],
      ['T2.secondary.a', 'J2.hot'],
      ['T2.secondary.b', 'TS1.8'],
      ['J2.cold', 'TS1.8'],
      ['J1.tip', 'V1.2'],
      ['J1.sleeve', 'TS1.8'],
    ],
    conditions: [{ id: 'signal', input: 'signal', loads: { J2: 8 } }],
  },
);

describe('an ultra-linear single-ended stage', () => {
  let simulator: Simulator;
  const condition = kit.conditions.find(({ id }) => id === 'signal')!;
  const state = solveCondition(openCondition(kit, condition, plainBench, asStated), nominalWorld, 230);
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it('has its screen on the tap: more current through the whole primary than the anode takes', () => {
    const drop = (from: string, to: string): number =>
      state.volts(state.model.context.wiring.netAt(from)) - state.volts(state.model.context.wiring.netAt(to));
    const anodeAmps = drop('T2.primary.tap', 'T2.primary.b') / (0.57 * 250);
    const bothAmps = drop('T2.primary.a', 'T2.primary.tap') / (0.43 * 250);
    expect(anodeAmps).toBeGreaterThan(0.02);
    // What the first part carries more is the screen's, and drops on R3 (Kirchhoff).
    expect(bothAmps - anodeAmps).toBeCloseTo(drop('T2.primary.tap', 'V1.9') / 100, 9);
  });

  it('agrees on every node within 1e-6 or 10 µV', async () => {
    const supplies = suppliesOf(state);
    const asVolts = Object.fromEntries(supplies.map(({ id, volts }) => [id, volts]));
    const theirs = await simulatePoint(simulator, circuitOf(state), { asVolts });
    expect(findUnlike((net) => state.volts(net), theirs.volts).unlike).toEqual([]);
    expect(supplies).toHaveLength(1);
  });

  it.each([20, 1000, 20_000])('agrees on every small signal within 0.001 dB: %d Hz', async (hertz) => {
    const small = new SmallSignal(state.solver);
    const theirs = await simulator.smallSignal(linearSupplies(state), signalId, hertz);
    let compared = 0;
    for (const [net, [real, imaginary]] of Object.entries(theirs)) {
      const size = Math.hypot(real, imaginary);
      if (size < 1e-9) continue;
      const own = small.transfer({ kind: 'parameter', element: signalId, name: 'volts' }, net, hertz);
      expect(Math.abs(20 * Math.log10(Math.hypot(...own) / size)), net).toBeLessThan(1e-3);
      compared++;
    }
    expect(compared).toBeGreaterThanOrEqual(6);
  });
});
