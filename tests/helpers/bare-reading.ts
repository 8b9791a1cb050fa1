import type { ReadingPrediction } from '../../shared-core/prediction/prediction.ts';

/** A computed reading in volts (V) with limits 2.326 and 3.09 sigma to each side, and no stop limit. */
export function bareReading(id: string, nominal: number, sigma = 1): ReadingPrediction {
  return {
    ...{ id, at: id, against: 'gnd', measure: 'dc volts', unit: 'V', predicted: 'value', source: 'computed' },
    ...{ nominal, low: nominal - 2.326 * sigma, high: nominal + 2.326 * sigma },
    ...{ lowest: nominal - 3.09 * sigma, highest: nominal + 3.09 * sigma, stopAbove: null, stopBelow: null },
    probes: { red: nominal, black: 0 },
    neighbours: [],
    settleSeconds: null,
    contributors: [],
    why: null,
  };
}
