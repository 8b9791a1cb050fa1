import { describe, expect, it } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { findStores } from '../../../shared-core/prediction/stores.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { asStated, chooseHeron } from './heron.ts';

/** What is typed in may add a store or lengthen a drain; a slip never takes one off the list. */
describe('a slip of typing', { timeout: 60_000 }, () => {
  const { chosen } = chooseHeron();
  const partsOf = (bench = plainBench, fitted = asStated as Parameters<typeof findStores>[2]) =>
    findStores(chosen, bench, fitted).map(({ part }) => part.id);
  const all = ['C1', 'C2', 'C3', 'C4'];

  it('of nano for micro leaves every capacitor a store', () => {
    expect(partsOf(plainBench, { measured: { C1: 47e-9, C4: 22e-9 }, valves: {} })).toEqual(all);
  });

  it('in the type of the rectifier leaves every capacitor a store', () => {
    expect(partsOf(plainBench, { measured: {}, valves: { V3: 'ECC83' } })).toEqual(all);
    expect(partsOf(plainBench, { measured: {}, valves: { V3: 'no such type' } })).toEqual(all);
  });

  it('in the mains voltage leaves every capacitor a store, at the volts of its own mains', () => {
    const slip = { ...plainBench, mains: { ...plainBench.mains, volts: 23 } };
    expect(partsOf(slip)).toEqual(all);
    const [store] = findStores(chosen, slip, asStated);
    const [usual] = findStores(chosen, plainBench, asStated);
    expect(store?.volts).toBeCloseTo(usual?.volts ?? 0, 6);
  });

  it('does not lower the fast curve, below which a look proves nothing', () => {
    const fastAt = (fitted: Parameters<typeof predictDrain>[2], bench = plainBench): number =>
      predictDrain(chosen, bench, fitted).stores.find(({ part }) => part === 'C1')?.fastSeconds ?? 0;
    const usual = fastAt(asStated);
    expect(fastAt({ measured: { R3: 1, R4: 1, C1: 1e-9 }, valves: {} })).toBeCloseTo(usual, 6);
    expect(fastAt(asStated, { ...plainBench, mains: { ...plainBench.mains, volts: 23 } })).toBeGreaterThan(
      0.9 * usual,
    );
  });

  it('cannot hide that a capacitor is larger than it says', () => {
    const kit = halfWaveKit([resistorOf('R1', 100e3, 'TS1.1', 'TS1.8')]);
    const [store] = predictDrain(kit, plainBench, { measured: { C1: 100e-6 }, valves: {} }).stores;
    expect(store?.joules).toBeCloseTo((100e-6 * (store?.volts ?? 0) ** 2) / 2, 9);
  });
});
