/**
 * How the capacitors of Wren and Curlew empty, against transients of a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.tran … uic` with the
 * capacitors' voltages as `ic`, reltol 1e-6, vntol 1e-8, abstol 1e-14, 27 °C, 1e12 Ω from every net to the
 * reference; steps of at most 1/800 of the time cold and 4 ms hot. Seconds to below 30 V, between samples as an exponential.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drainLinear } from '../../shared-core/circuit/drain-linear.ts';
import { drainNonlinear } from '../../shared-core/circuit/drain-nonlinear.ts';
import { type DrainCase, drainCases, predictDrain } from '../../shared-core/prediction/predict-drain.ts';
import { findStores, pluggedConditions } from '../../shared-core/prediction/stores.ts';
import { Simulator } from '../helpers/simulator.ts';
import { asStated } from '../shared-core/prediction/heron.ts';
import { kitBuilds } from './by-hand.ts';
import { secondsBelow, withoutBridges } from './drain-run.ts';

/** For each kit its stores of high tension, how long they are followed, and the conditions that charge them. */
const kits = [
  {
    kit: 'wren',
    stores: ['C1', 'C2', 'C4-left', 'C4-right'],
    until: 60,
    cold: ['no-valves', 'running'],
    hot: ['running', 'signal'],
    builds: ['230 V 50 Hz'],
    asSimulated: withoutBridges,
  },
  {
    kit: 'curlew',
    stores: ['C1', 'C2', 'C3', 'C4', 'C5'],
    until: 6,
    cold: ['rectifier', 'running'],
    hot: ['quiet', 'running', 'signal'],
    builds: ['230 V 50 Hz, pentode'],
    asSimulated: (drain: DrainCase) => drain,
  },
] as const;
const cases = kits.flatMap((kit) =>
  kitBuilds(kit.kit)
    .filter(({ title }) => (kit.builds as readonly string[]).includes(title))
    .map((build) => ({ ...kit, build, title: `${kit.kit}, ${build.title}` })),
);

describe('drain of Wren and Curlew against the reference simulator', { timeout: 180_000 }, () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(cases)('agrees on every time of every store: $title', async ({ build, ...kit }) => {
    const { chosen, bench } = build;
    const { safeVolts } = chosen;
    const found = findStores(chosen, bench, asStated);
    const highest = Object.fromEntries(found.map(({ part, volts }) => [part.id, volts]));
    const plugged = pluggedConditions(chosen);
    const casesOf = (id: string) =>
      drainCases(
        chosen,
        plugged.find((condition) => condition.id === id)!,
        bench,
        asStated,
        highest,
      );
    const compare = (what: string, ours: number | null, theirs: number, rel: number): void => {
      expect(Math.abs(ours! / theirs - 1), `${what}: ${ours} and ${theirs}`).toBeLessThan(rel);
    };
    for (const id of kit.cold) {
      const both = casesOf(id);
      for (const kind of ['slow', 'likely'] as const) {
        const { circuit, start } = both[kind];
        const ours = drainLinear(circuit, start, { safeVolts }).stores;
        const run = { until: kit.until, step: kit.until / 800, startAmps: {} };
        const theirs = await secondsBelow(simulator, kit.asSimulated(both[kind]), kit.stores, safeVolts, run);
        for (const store of kit.stores) {
          const { seconds } = ours.find(({ element }) => element === store)!;
          // 0.01 %.
          compare(`${id} ${kind} ${store}`, seconds, theirs[store]!, 1e-4);
        }
      }
    }
    const quickest: Record<string, number> = {};
    for (const id of kit.hot) {
      const { fast } = casesOf(id);
      const quick = drainNonlinear(fast.circuit, fast.start, { safeVolts, untilSeconds: 600 });
      expect(quick.failure).toBeNull();
      const run = { until: 5, step: 4e-3, startAmps: {} };
      const theirs = await secondsBelow(simulator, kit.asSimulated(fast), kit.stores, safeVolts, run);
      for (const store of kit.stores) {
        const { seconds } = quick.stores.find(({ element }) => element === store)!;
        // 1 %.
        compare(`${id} fast ${store}`, seconds, theirs[store]!, 1e-2);
        quickest[store] = Math.min(quickest[store] ?? Infinity, theirs[store]!);
      }
    }
    for (const { part, fastSeconds } of predictDrain(chosen, bench, asStated).stores) {
      // The quickest of all conditions with the high tension on; on standby there is none to drain.
      if (quickest[part]) compare(`fast ${part}`, fastSeconds, quickest[part], 1e-2);
    }
  });
});
