import { describe, expect, it } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { storeAfter } from '../../../shared-core/prediction/store-after.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { asStated, chooseHeron } from './heron.ts';

const { stores } = predictDrain(chooseHeron().chosen, plainBench, asStated);

describe('the drain after one condition', { timeout: 60_000 }, () => {
  it('begins where that condition left the stores: empty where no rectifier was in', () => {
    for (const store of stores) {
      for (const condition of ['lamp-no-valves', 'no-valves']) {
        const after = storeAfter(store, condition);
        expect([after.fastSeconds, after.likelySeconds]).toEqual([0, 0]);
        expect(Math.max(...after.fast.volts)).toBeLessThan(0.1);
      }
    }
  });

  it('has only the bleeders where no valve draws current: far slower than with all valves hot', () => {
    for (const store of stores) {
      const alone = storeAfter(store, 'rectifier').fastSeconds ?? 0;
      const all = storeAfter(store, 'running').fastSeconds ?? 0;
      expect(alone).toBeGreaterThan(20);
      expect(all).toBeLessThan(2);
      expect(storeAfter(store, 'listening').fastSeconds).toBeCloseTo(all, 1);
    }
  });

  it('is a lower bound: R·C·ln(V/30) at the lower tolerances from low mains', () => {
    const kit = halfWaveKit([resistorOf('R1', 100e3, 'TS1.1', 'TS1.8')]);
    const [store] = predictDrain(kit, plainBench, asStated).stores;
    const condition = Object.keys(store?.after ?? {})[0] ?? '';
    const { fast, fastSeconds } = store!.after![condition]!;
    // 100 kΩ − 5 %, 47 µF − 20 %: as the kit states them.
    const bound = 100e3 * 0.95 * 47e-6 * 0.8 * Math.log((fast.volts[0] ?? 0) / 30);
    expect((fastSeconds ?? 0) / bound).toBeCloseTo(1, 3);
    expect(fastSeconds).toBeLessThan(store!.after![condition]!.likelySeconds ?? 0);
  });

  it('is that of all conditions together where the last one is not known', () => {
    const [store] = stores;
    expect(storeAfter(store!, null)).toBe(store);
    expect(storeAfter(store!, 'insulation')).toBe(store);
  });
});
