import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Place, Reading } from '../kit/kit.ts';
import { partIdOf } from '../kit/places.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import { fullestConditions } from '../prediction/stores.ts';

/** A place of the mains side: nothing is offered there beyond what the kit itself asks for. */
const mainsKinds = new Set(['mains-inlet', 'fuse']);

/**
 * A kit with everything that could be measured as its readings.
 *
 * First its own readings, stated ones as if they were computed, in conditions that are predicted. Then, for
 * every net that none of them touches, ohms to the chassis in the cold condition and DC volts in the fullest one,
 * at the net's safest place; last, ohms across every resistor. Nets of the mains side are left out.
 */
export function measurableKit(chosen: ChosenKit): ChosenKit {
  const conditions = new Map(chosen.conditions.map((condition) => [condition.id, condition]));
  const own = chosen.readings.flatMap((reading): readonly Reading[] => {
    const supply = conditions.get(reading.in)?.supply;
    const isPredicted = supply === 'mains' || supply === 'unplugged';
    return isPredicted && reading.measure !== 'insulation' ? [{ ...reading, expect: null }] : [];
  });
  const cold = chosen.conditions.find(({ supply }) => supply === 'unplugged');
  const full = busiest(
    chosen,
    fullestConditions(chosen.conditions.filter(({ supply }) => supply === 'mains')),
  );
  const offered = [...own];
  const offer = (reading: Reading): void => {
    if (!offered.some((each) => isSame(chosen, each, reading))) offered.push(reading);
  };
  for (const place of netPlaces(chosen)) {
    if (cold) offer(readingOf(`${place} ohms`, place, 'chassis', 'ohms', cold));
    if (full) offer(readingOf(`${place} volts`, place, 'chassis', 'dc volts', full));
  }
  for (const part of chosen.parts) {
    if (part.kind !== 'resistor' || !cold) continue;
    offer(readingOf(`${part.id} ohms`, part.between[0], part.between[1], 'ohms', cold));
  }
  return { ...chosen, readings: offered };
}

/** The one of several conditions in which the kit itself measures most. */
function busiest({ readings }: ChosenKit, conditions: readonly Condition[]): Condition | undefined {
  const count = ({ id }: Condition): number => readings.filter((reading) => reading.in === id).length;
  return conditions.toSorted((one, other) => count(other) - count(one))[0];
}

function readingOf(
  id: string,
  at: Place,
  against: Place,
  measure: Reading['measure'],
  { id: condition }: Condition,
): Reading {
  const title = against === 'chassis' ? `${at} to the chassis` : `${at} to ${against}`;
  return {
    ...{ id, title, at, against, measure, in: condition, when: {}, expect: null },
    ...{ stopAbove: null, stopBelow: null, repeatAfterSeconds: [], proves: null },
  };
}

/** Whether two readings are of the same two nets, whichever way round, in the same condition. */
function isSame(chosen: ChosenKit, one: Reading, other: Reading): boolean {
  if (one.measure !== other.measure || one.in !== other.in) return false;
  const netsOf = ({ at, against }: Reading): string =>
    [at, against]
      .map((place) => netOfPlace(chosen, place))
      .toSorted()
      .join(' ');
  return netsOf(one) === netsOf(other);
}

/** The safest place of every net that is not the chassis and not of the mains side. */
export function netPlaces(chosen: ChosenKit): readonly Place[] {
  const kinds = new Map(chosen.parts.map((part) => [part.id, part.kind]));
  const chassis = netOfPlace(chosen, 'chassis');
  const isMains = (place: Place): boolean => {
    const part = chosen.parts.find(({ id }) => id === partIdOf(place));
    if (place.startsWith('inlet.') || place.includes('.primary.')) {
      return part?.kind !== 'output-transformer';
    }
    return part !== undefined && (mainsKinds.has(part.kind) || part.kind === 'switch');
  };
  const soldered = new Set([
    ...chosen.parts.flatMap((part) => ('between' in part ? part.between : [])),
    ...chosen.leads.flatMap(({ from, to }) => [from, to]),
  ]);
  return Object.entries(chosen.placesOf).flatMap(([net, places]) => {
    const isUsed = places.some((place) => soldered.has(place));
    if (net === chassis || !isUsed || places.some(isMains)) return [];
    const rank = (place: Place): number => {
      const kind = kinds.get(partIdOf(place) ?? '');
      return kind === 'tag-strip' ? 0 : kind === 'valve' ? 2 : 1;
    };
    const [best] = places.toSorted((one, other) => rank(one) - rank(other));
    return best === undefined ? [] : [best];
  });
}
