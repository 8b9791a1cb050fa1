import { describe, expect, it } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { findStores } from '../../../shared-core/prediction/stores.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { asStated, chooseHeron } from './heron.ts';
import type { LoosePart } from './small-kit.ts';

const ten = { low: -0.1, high: 0.1 };

function capacitorOf(id: string, farads: number, volts: number, from: string, to: string): LoosePart {
  return { kind: 'capacitor', id, type: 'film', farads, volts, tolerance: ten, between: [from, to] };
}

describe('findStores', () => {
  it('takes the reservoir and leaves out what can only hold a harmless charge', () => {
    const kit = halfWaveKit([
      resistorOf('R1', 100e3, 'TS1.1', 'TS1.8'),
      // 357 V at high mains: 0.1 µF + 10 % holds 39 µC, 0.15 µF + 10 % holds 59 µC.
      capacitorOf('C2', 0.1e-6, 630, 'TS1.1', 'TS1.8'),
      capacitorOf('C3', 0.15e-6, 630, 'TS1.1', 'TS1.8'),
    ]);
    expect(findStores(kit, plainBench, asStated).map(({ part }) => part.id)).toEqual(['C1', 'C3']);
  });

  it('finds the capacitor that a single open part makes dangerous, and says which', () => {
    // 330 V through 100 kΩ onto 1 kΩ: 3.3 V on C2, until R2 is open.
    const kit = halfWaveKit([
      resistorOf('R1', 100e3, 'TS1.1', 'TS1.2'),
      resistorOf('R2', 1e3, 'TS1.2', 'TS1.8'),
      resistorOf('R3', 100e3, 'TS1.1', 'TS1.8'),
      capacitorOf('C2', 10e-6, 450, 'TS1.2', 'TS1.8'),
    ]);
    const store = findStores(kit, plainBench, asStated).find(({ part }) => part.id === 'C2');
    expect(store?.when).toBe('R2 open');
    expect(store?.volts).toBeGreaterThan(300);
  });
});

describe('predictDrain', { timeout: 60_000 }, () => {
  it('follows R·C·ln(V/30) at the upper tolerances from high mains', () => {
    const kit = halfWaveKit([resistorOf('R1', 100e3, 'TS1.1', 'TS1.8')]);
    const [store] = predictDrain(kit, plainBench, asStated).stores;
    const slow = 100e3 * 1.05 * 47e-6 * 1.5 * Math.log((store?.volts ?? 0) / 30);
    expect((store?.slowSeconds ?? 0) / slow).toBeCloseTo(1, 6);
    // 230 V +10 %, one silicon junction, a light load.
    expect(store?.volts).toBeGreaterThan(253 * Math.SQRT2 * 0.97);
    expect(store?.volts).toBeLessThan(253 * Math.SQRT2 * 1.09);
    expect(store?.joules).toBeCloseTo((47e-6 * 1.5 * (store?.volts ?? 0) ** 2) / 2, 9);
    expect([store?.plus, store?.minus]).toEqual(['TS1.1', 'TS1.8']);
  });

  it('uses measured values as they are', () => {
    const kit = halfWaveKit([resistorOf('R1', 100e3, 'TS1.1', 'TS1.8')]);
    const fitted = { measured: { R1: 98e3, C1: 50e-6 }, valves: {} };
    const [store] = predictDrain(kit, plainBench, fitted).stores;
    const slow = 98e3 * 50e-6 * Math.log((store?.volts ?? 0) / 30);
    expect((store?.slowSeconds ?? 0) / slow).toBeCloseTo(1, 6);
  });

  it('answers no path, not a long time, where nothing discharges a store', () => {
    const [store] = predictDrain(halfWaveKit([]), plainBench, asStated).stores;
    expect(store?.slowSeconds).toBeNull();
    expect(store?.likelySeconds).toBeNull();
  });

  it('orders fast, likely and slow on every store of Heron, with falling curves that are finite', () => {
    const { stores } = predictDrain(chooseHeron().chosen, plainBench, asStated);
    expect(stores.map(({ part }) => part)).toEqual(['C1', 'C2', 'C3', 'C4']);
    for (const { fastSeconds, likelySeconds, slowSeconds, slow, likely, fast, volts } of stores) {
      expect(fastSeconds).toBeLessThan(likelySeconds ?? 0);
      expect(likelySeconds).toBeLessThan(slowSeconds ?? 0);
      expect(slowSeconds).toBeLessThan(60);
      for (const curve of [slow, likely, fast]) {
        expect(curve.seconds.length).toBe(curve.volts.length);
        expect([...curve.seconds, ...curve.volts].every(Number.isFinite)).toBe(true);
        // Another capacitor of the chain may lift one for a moment, never above the highest start.
        expect(Math.max(...curve.volts)).toBeLessThan(volts * 1.02);
      }
    }
  });
});
