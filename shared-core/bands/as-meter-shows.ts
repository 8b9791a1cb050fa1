import type { ConditionPrediction } from '../prediction/prediction.ts';
import { formatQuantity } from '../units/format-quantity.ts';

/** A condition's expectations as the builder's meter shows them: cold ohms with the ohms of the leads. */
export function asMeterShows(prediction: ConditionPrediction, leadOhms: number): ConditionPrediction {
  if (!(leadOhms > 0)) return prediction;
  const shift = (value: number | null): number | null => (value === null ? null : value + leadOhms);
  const readings = prediction.readings.map((reading) => {
    if (reading.measure !== 'ohms' || reading.predicted !== 'value') return reading;
    const { nominal, low, high, lowest, highest, why } = reading;
    return {
      ...reading,
      nominal: shift(nominal),
      low: shift(low),
      high: shift(high),
      lowest: shift(lowest),
      highest: shift(highest),
      why: why ?? `the ${formatQuantity(leadOhms, 'Ω')} of your leads are in it`,
    };
  });
  return { ...prediction, readings };
}
