import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { predictBands } from '../../../shared-core/bands/predict-bands.ts';
import { SampleBook } from '../../../shared-core/bands/sample-book.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { halfWaveKit, resistorOf } from '../prediction/half-wave-kit.ts';
import { asStated } from '../prediction/heron.ts';

function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (value === null || typeof value !== 'object') return [];
  return Object.values(value).flatMap(numbersIn);
}

/** A resistance from a short to an open circuit, evenly in its logarithm. */
const ohms = fc.double({ min: -1, max: 9, noNaN: true }).map((power) => 10 ** power);

describe('whatever the values', { timeout: 60_000 }, () => {
  it('no prediction and no drain holds a number that JSON cannot', () => {
    fc.assert(
      fc.property(ohms, ohms, fc.double({ min: 80, max: 270, noNaN: true }), (first, second, volts) => {
        const kit = halfWaveKit(
          [resistorOf('R1', first, 'TS1.1', 'TS1.2'), resistorOf('R2', second, 'TS1.2', 'TS1.8')],
          {
            readings: [
              { id: 'b1', at: 'b1', measure: 'dc volts', in: 'running' },
              { id: 'half', at: 'TS1.2', measure: 'dc volts', in: 'running' },
              { id: 'winding', at: 'T1.ht.a', measure: 'ac volts', in: 'running' },
              { id: 'cold', at: 'TS1.2', measure: 'ohms', in: 'cold' },
            ],
          },
        );
        const bench = { ...plainBench, mains: { ...plainBench.mains, volts } };
        const all = ['running', 'cold', 'lamp'].map((id) =>
          predictBands(kit, id, bench, asStated, new SampleBook(1, 200)),
        );
        const drain = predictDrain(kit, bench, asStated);
        expect(numbersIn([all, drain]).filter((number) => !Number.isFinite(number))).toEqual([]);
        for (const reading of all.flatMap((prediction) => prediction?.readings ?? [])) {
          if (reading.predicted !== 'value') continue;
          expect(reading.low).toBeLessThanOrEqual(reading.nominal ?? 0);
          expect(reading.high).toBeGreaterThanOrEqual(reading.nominal ?? 0);
        }
      }),
      { numRuns: 15, seed: 4 },
    );
  });
});
