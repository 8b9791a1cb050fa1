import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { ConditionPrediction } from '../prediction/prediction.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import { findValveType } from '../valves/index.ts';
import type { FixedBiasFacts } from './facts.ts';

/** A grid this far below the chassis is biased from a negative supply, in volts (V). */
const biasVolts = -1;

/**
 * The sockets whose grid stands on a negative supply.
 *
 * @param netVolts Of the condition with every valve in.
 */
export function findFixedBias(
  chosen: ChosenKit,
  predictions: readonly ConditionPrediction[],
  netVolts: Readonly<Record<string, number>>,
): readonly FixedBiasFacts[] {
  const adjusters = chosen.parts
    .filter(({ kind, id }) => {
      if (kind !== 'potentiometer') return false;
      const volts = ['ccw', 'wiper', 'cw'].map((end) => netVolts[netOfPlace(chosen, `${id}.${end}`)] ?? 0);
      return Math.min(...volts) < biasVolts;
    })
    .map(({ id }) => id);
  return chosen.parts.flatMap((part): readonly FixedBiasFacts[] => {
    if (part.kind !== 'valve') return [];
    const pins = (findValveType(part.type)?.sections ?? []).flatMap(({ pins }) => pins['grid'] ?? []);
    const grids = pins.map((pin) => `${part.id}.${pin}`);
    const isBiased = grids.some((grid) => (netVolts[netOfPlace(chosen, grid)] ?? 0) < biasVolts);
    if (!isBiased) return [];
    const isOut = (id: string): boolean => {
      const condition = chosen.conditions.find((each) => each.id === id);
      return condition !== undefined && condition.fitted !== 'all' && !condition.fitted.includes(part.id);
    };
    const readings = chosen.readings.filter(
      (reading) => reading.measure === 'dc volts' && grids.includes(reading.at) && isOut(reading.in),
    );
    const known = new Set(predictions.flatMap((prediction) => prediction.readings.map(({ id }) => id)));
    const ids = readings.map(({ id }) => id).filter((id) => known.has(id));
    return [{ socket: part.id, readings: ids, adjusters }];
  });
}
