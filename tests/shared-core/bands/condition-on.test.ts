import { describe, expect, it } from 'vitest';
import { conditionOn } from '../../../shared-core/bands/condition-on.ts';
import type { ConditionPrediction, ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';

/** Two readings of nominal 100 V and 200 V that both scale with the mains by 5 % (1 σ), and noise of their own. */
function twoReadings(own: number): ConditionPrediction {
  const reading = (id: string, nominal: number, sigma: number): ReadingPrediction => ({
    ...{ id, at: id, against: 'gnd', measure: 'dc volts', unit: 'V', predicted: 'value', source: 'computed' },
    ...{ nominal, low: nominal - 2.326 * sigma, high: nominal + 2.326 * sigma },
    ...{ lowest: nominal - 3.09 * sigma, highest: nominal + 3.09 * sigma, stopAbove: 300, stopBelow: null },
    ...{
      probes: { red: nominal, black: 0 },
      neighbours: [],
      settleSeconds: null,
      contributors: [],
      why: null,
    },
  });
  const covariance = [
    [25, 50],
    [50, 100 + own * own],
  ];
  return {
    ...{ condition: 'running', ratings: [], netVolts: {}, covariance },
    readings: [reading('b1', 100, 5), reading('b2', 200, Math.hypot(10, own))],
    solve: { converged: true, iterations: 1, residualAmps: 0 },
  };
}

describe('conditionOn', () => {
  it('moves a fully correlated reading by the same share and says why', () => {
    const [, b2] = conditionOn(twoReadings(0), [{ id: 'b1', value: 104 }], { b1: 'B+' });
    // Repeatability of 0.3 V on 100 V beside a spread of 5 V: gain 25 / (25 + 0.09).
    expect(b2?.prediction.nominal).toBeCloseTo(200 + 8 * (25 / 25.09), 9);
    expect(b2?.because).toBe('Because B+ reads 4 % high here, expect 208\u202fV.');
  });

  it('narrows the band to what the other reading leaves open', () => {
    const before = twoReadings(3);
    const [, b2] = conditionOn(before, [{ id: 'b1', value: 100 }]);
    const width = (r: ReadingPrediction | undefined) => (r?.high ?? 0) - (r?.low ?? 0);
    const left = Math.sqrt(109 - (50 * 50) / 25.09) / Math.sqrt(109);
    expect(width(b2?.prediction) / width(before.readings[1])).toBeCloseTo(left, 9);
    expect(b2?.because).toBeNull();
  });

  it('never moves a stop limit', () => {
    const [, b2] = conditionOn(twoReadings(0), [{ id: 'b1', value: 110 }]);
    expect(b2?.prediction.stopAbove).toBe(300);
  });

  it('ignores a reading that is itself out of band', () => {
    const before = twoReadings(0);
    expect(conditionOn(before, [{ id: 'b1', value: 120 }]).map((r) => r.prediction)).toEqual(before.readings);
  });
});
