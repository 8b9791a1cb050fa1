import type { ChosenKit } from '../kit/chosen-kit.ts';
import { findFixedBiasSockets } from '../kit/fixed-bias.ts';
import type { ConditionPrediction } from '../prediction/prediction.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import { findValveType } from '../valves/index.ts';
import type { FixedBiasFacts } from './facts.ts';

/** A grid this far below the chassis is biased from a negative supply, in volts (V). */
const biasVolts = -1;

/**
 * The sockets whose grid stands on a negative supply.
 *
 * Found by what is soldered to what, so that a supply that is not predicted takes nothing off the list; what the
 * computed volts show beside that is added, with every control that stands on a negative net.
 *
 * @param netVolts Of the condition with every valve in.
 */
export function findFixedBias(
  chosen: ChosenKit,
  predictions: readonly ConditionPrediction[],
  netVolts: Readonly<Record<string, number>>,
): readonly FixedBiasFacts[] {
  const bySolder = findFixedBiasSockets(chosen);
  const known = new Set(predictions.flatMap((prediction) => prediction.readings.map(({ id }) => id)));
  return chosen.parts.flatMap((part): readonly FixedBiasFacts[] => {
    if (part.kind !== 'valve') return [];
    const pins = (findValveType(part.type, chosen.valves)?.sections ?? []).flatMap(
      ({ pins }) => pins['grid'] ?? [],
    );
    const grids = pins.map((pin) => `${part.id}.${pin}`);
    const own = bySolder.find(({ socket }) => socket === part.id);
    const isNegative = grids.some((grid) => (netVolts[netOfPlace(chosen, grid)] ?? 0) < biasVolts);
    if (!own && !isNegative) return [];
    const readings = chosen.readings.filter(
      ({ measure, at, in: condition, id }) =>
        measure === 'dc volts' &&
        (own?.grids ?? grids).includes(at) &&
        isOut(chosen, part.id, condition) &&
        known.has(id),
    );
    const adjusters = own?.adjusters.map(({ part: id }) => id) ?? negativeControls(chosen, netVolts);
    return [{ socket: part.id, readings: readings.map(({ id }) => id), adjusters }];
  });
}

function isOut(chosen: ChosenKit, socket: string, condition: string): boolean {
  const found = chosen.conditions.find((each) => each.id === condition);
  return found !== undefined && found.fitted !== 'all' && !found.fitted.includes(socket);
}

function negativeControls(chosen: ChosenKit, netVolts: Readonly<Record<string, number>>): readonly string[] {
  return chosen.parts
    .filter(({ kind, id }) => {
      if (kind !== 'potentiometer') return false;
      const volts = ['ccw', 'wiper', 'cw'].map((end) => netVolts[netOfPlace(chosen, `${id}.${end}`)] ?? 0);
      return Math.min(...volts) < biasVolts;
    })
    .map(({ id }) => id);
}
