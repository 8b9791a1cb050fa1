import { describe, expect, test } from 'vitest';
import { setAdjusters } from '../../../shared-core/faults/fit-adjust.ts';
import { asInKit, nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { kits } from '../../helpers/fit-kits.ts';

const { curlew, heron } = kits;
const bench = nominalBench(curlew);

describe('adjusters with other valves in', () => {
  test('stay where they are while every reading is within the kit’s own limits', () => {
    expect(setAdjusters(curlew, bench, asInKit).adjusters).toEqual([]);
    expect(setAdjusters(heron, nominalBench(heron), asInKit).chosen).toBe(heron);
  });

  test('bring each reading back to its target, and only those that left it', () => {
    const fitted = { measured: {}, valves: { V2: '6L6GC' } };
    const set = setAdjusters(curlew, bench, fitted);
    expect([set.outOfReach, set.adjusters.map(({ control }) => control)]).toEqual([[], ['P2']]);
    const sense = predictNominal(set.chosen, 'running', bench, fitted)?.prediction.readings.find(
      ({ id }) => id === 'v2-sense',
    );
    // Set to a tenth of the kit's ±5 %; the meter's 10 MΩ across 10 Ω do nothing.
    expect(Math.abs((sense?.nominal ?? 0) - 0.4)).toBeLessThan(0.002 + 1e-6);
  });

  test('say what their end gives where the target is out of reach', () => {
    const set = setAdjusters(curlew, bench, { measured: {}, valves: { V2: 'KT88' } });
    expect(set.outOfReach.map(({ reading, target }) => [reading.id, target])).toEqual([['v2-sense', 0.4]]);
    expect(set.outOfReach[0]?.reached).toBeGreaterThan(0.42);
    expect(set.adjusters.find(({ control }) => control === 'P2')?.after).toBeLessThan(0.03);
  });
});
