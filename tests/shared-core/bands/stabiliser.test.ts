import { describe, expect, it } from 'vitest';
import { predictBands } from '../../../shared-core/bands/predict-bands.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { halfWaveKit, resistorOf } from '../prediction/half-wave-kit.ts';

const asStated = { measured: {}, valves: {} };

/** An OA2 behind a resistor on the half-wave supply, with a load and a bleeder. */
const kit = (seriesOhms: number) =>
  halfWaveKit(
    [
      { kind: 'valve', id: 'V1', type: 'OA2', socket: { base: 'B7G', gapFaces: 0, mounted: 'chassis' } },
      resistorOf('R1', seriesOhms, 'TS1.1', 'V1.1'),
      resistorOf('R2', 150e3, 'V1.5', 'TS1.8'),
      resistorOf('R3', 220e3, 'TS1.1', 'TS1.8'),
    ],
    {
      leads: [['V1.2', 'TS1.8']],
      nets: { held: 'V1.5' },
      readings: [
        { id: 'held', at: 'held', measure: 'dc volts', in: 'running' },
        { id: 'b1', at: 'b1', measure: 'dc volts', in: 'running' },
      ],
    },
  );

describe('bands behind a gas stabiliser', () => {
  const [held, b1] = predictBands(kit(9e3), 'running', plainBench, asStated)!.readings;

  it('are those of the valve, not of the mains: 144 to 164 V from one OA2 to the next', () => {
    expect(held?.predicted).toBe('value');
    // The limits of production count as two sigma; 98 of 100 lie within 2.33.
    expect(held?.low).toBeGreaterThan(137);
    expect(held?.low).toBeLessThan(145);
    expect(held?.high).toBeGreaterThan(157);
    expect(held?.high).toBeLessThan(165);
    const width = (reading: typeof held): number =>
      ((reading?.high ?? 0) - (reading?.low ?? 0)) / (reading?.nominal ?? 1);
    expect(held?.contributors[0]?.what).toContain('V1 voltage');
    expect(width(b1)).toBeGreaterThan(0.05);
  });

  it('are not given outside its range of currents, where it does not regulate', () => {
    const [outside] = predictBands(kit(33e3), 'running', plainBench, asStated)!.readings;
    expect(outside?.predicted).toBe('none');
    expect(outside?.why).toContain('OA2');
  });
});

describe('the drain of a kit with a gas stabiliser', () => {
  it('is quicker while it glows, and never counts on it', () => {
    const [store] = predictDrain(kit(9e3), plainBench, asStated).stores;
    expect(store?.fastSeconds).toBeLessThan(store?.likelySeconds ?? 0);
    expect(store?.likelySeconds).toBeLessThan(store?.slowSeconds ?? 0);
  });
});
