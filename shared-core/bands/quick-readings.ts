import type { Reading } from '../kit/kit.ts';
import type { ConditionModel } from '../prediction/condition-model.ts';
import { solveCondition } from '../prediction/condition-model.ts';
import { readByTangent } from '../prediction/dc-readings.ts';
import { ohmsReadings, readOhms } from '../prediction/ohms-readings.ts';
import { acVolts, signalGain } from '../prediction/predict-condition.ts';
import type { World } from '../prediction/world.ts';

/** The figures of some readings in one world; NaN where there is none (no convergence, OL). */
export interface QuickReadings {
  readonly values: Float64Array;
  /** Quantities the world was asked for. */
  readonly asked: ReadonlySet<string>;
}

/**
 * Reads a condition in one world the quick way: meters by the tangent, the slow loop short.
 *
 * @param model Opened for bands; kept warm between calls.
 * @param mainsVolts Rms at the plug, nominal, in volts (V).
 */
export function quickReadings(
  model: ConditionModel,
  readings: readonly Reading[],
  world: World,
  mainsVolts: number,
): QuickReadings {
  const values = new Float64Array(readings.length).fill(Number.NaN);
  const asked = new Set<string>();
  if (readings.some(({ measure }) => measure === 'ohms')) {
    const cold = readOhms(model, world);
    const order = ohmsReadings(model).map(({ id }) => id);
    for (const quantity of cold.asked) asked.add(quantity);
    readings.forEach(({ id }, index) => {
      const ohms = cold.readings[order.indexOf(id)]?.ohms;
      if (ohms !== null && ohms !== undefined) values[index] = ohms;
    });
  }
  if (readings.every(({ measure }) => measure === 'ohms')) return { values, asked };
  const state = solveCondition(model, world, mainsVolts);
  for (const quantity of state.asked) asked.add(quantity);
  if (!state.converged) return { values, asked };
  const metered = readByTangent(state);
  readings.forEach((reading, index) => {
    if (reading.measure === 'ac volts') values[index] = acVolts(state, reading);
    if (reading.measure === 'gain') values[index] = signalGain(state, reading);
    if (reading.measure !== 'dc volts') return;
    const meter = model.meters.findIndex(({ id }) => id === reading.id);
    values[index] = meter < 0 ? 0 : (metered[meter] ?? Number.NaN);
  });
  return { values, asked };
}
