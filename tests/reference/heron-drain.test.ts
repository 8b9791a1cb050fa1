/**
 * How Heron's capacitors empty, against transients of a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.tran … uic` with the
 * capacitors' voltages as `ic`, reltol 1e-6, vntol 1e-8, abstol 1e-14, 27 °C, 1e12 Ω from every net to the
 * reference; steps of at most 20 ms cold and 2 ms hot. Seconds to below 30 V, between samples as an exponential.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drainLinear } from '../../shared-core/circuit/drain-linear.ts';
import { drainNonlinear } from '../../shared-core/circuit/drain-nonlinear.ts';
import { drainCases, predictDrain } from '../../shared-core/prediction/predict-drain.ts';
import { findStores, fullestCondition, pluggedConditions } from '../../shared-core/prediction/stores.ts';
import { Simulator } from '../helpers/simulator.ts';
import { asStated } from '../shared-core/prediction/heron.ts';
import { primaryAmps, secondsBelow } from './drain-run.ts';
import { heronBuilds, solveHeron } from './heron.ts';

const stores = ['C1', 'C2', 'C3', 'C4'];

describe('drain of Heron against the reference simulator', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(heronBuilds())('agrees on every time of every store: $mains', async (build) => {
    const { chosen, bench } = build;
    const { safeVolts } = chosen;
    const found = findStores(chosen, bench, asStated);
    expect(found.map(({ part }) => part.id)).toEqual(stores);
    const highest = Object.fromEntries(found.map(({ part, volts }) => [part.id, volts]));
    const plugged = pluggedConditions(chosen);
    const slowest: Record<'slow' | 'likely', Record<string, number>> = { slow: {}, likely: {} };
    // The longest *slow* and *likely* are without the load of V1 and V2; the others are as *running*.
    for (const id of ['rectifier', 'running']) {
      const cases = drainCases(
        chosen,
        plugged.find((condition) => condition.id === id)!,
        bench,
        asStated,
        highest,
      );
      for (const kind of ['slow', 'likely'] as const) {
        const ours = drainLinear(cases[kind].circuit, cases[kind].start, { safeVolts }).stores;
        const theirs = await secondsBelow(simulator, cases[kind], stores, safeVolts, {
          until: 50,
          step: 20e-3,
          startAmps: {},
        });
        for (const store of stores) {
          const seconds = ours.find(({ element }) => element === store)!.seconds!;
          expect(Math.abs(seconds - theirs[store]!), `${id} ${kind} ${store}: ${seconds}, ${theirs[store]}`)
            // 0.01 %.
            .toBeLessThanOrEqual(1e-4 * theirs[store]!);
          slowest[kind][store] = Math.max(slowest[kind][store] ?? 0, theirs[store]!);
        }
      }
    }
    const fullest = fullestCondition(plugged)!;
    const { fast } = drainCases(chosen, fullest, bench, asStated, highest);
    const quick = drainNonlinear(fast.circuit, fast.start, { safeVolts, untilSeconds: 600 });
    expect(quick.failure).toBeNull();
    // The primary carries its direct current on; what it begins with is over in milliseconds.
    const { solver } = solveHeron(build, fullest.id);
    const startAmps = { T2: primaryAmps(solver, 'T2') };
    const hot = await secondsBelow(simulator, fast, stores, safeVolts, { until: 5, step: 2e-3, startAmps });
    for (const store of predictDrain(chosen, bench, asStated).stores) {
      const within = (ours: number | null, theirs: number, rel: number) =>
        expect(Math.abs(ours! / theirs - 1), `${store.part}: ${ours} and ${theirs}`).toBeLessThan(rel);
      within(store.slowSeconds, slowest.slow[store.part]!, 1e-4);
      within(store.likelySeconds, slowest.likely[store.part]!, 1e-4);
      within(store.fastSeconds, hot[store.part]!, 1e-2);
      expect(hot[store.part]).toBeGreaterThan(1);
    }
  });
});
