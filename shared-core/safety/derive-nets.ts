import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Place } from '../kit/kit.ts';
import { primaryEndsOf } from '../kit/transformer-ends.ts';
import { neighboursOf } from '../prediction/neighbours.ts';
import { netOfPlace } from '../prediction/wiring.ts';

/**
 * The nets before the transformer: line and neutral through every fuse and switch to the primary.
 *
 * Earth is not one of them.
 */
export function mainsSideNets(chosen: ChosenKit): ReadonlySet<string> {
  const nets = new Set(['inlet.line', 'inlet.neutral'].map((place) => netOfPlace(chosen, place)));
  const pairs = chosen.parts.flatMap((part): (readonly [Place, Place])[] => {
    if (part.kind === 'fuse') return [[`${part.id}.a`, `${part.id}.b`]];
    if (part.kind === 'mains-transformer') {
      const ends = primaryEndsOf(part).map(({ end }) => `${part.id}.${end}`);
      return ends.slice(1).map((end) => [ends[0]!, end] as const);
    }
    if (part.kind !== 'switch') return [];
    return Array.from(
      { length: part.poles },
      (_, pole) => [`${part.id}.a${pole + 1}`, `${part.id}.b${pole + 1}`] as const,
    );
  });
  for (let grown = true; grown;) {
    grown = false;
    for (const pair of pairs) {
      const [one, other] = pair.map((place) => netOfPlace(chosen, place)) as [string, string];
      if (nets.has(one) === nets.has(other)) continue;
      nets.add(one).add(other);
      grown = true;
    }
  }
  return nets;
}

/** Net to the cold readings on it and on the nets beside it: a splash of solder reaches the next pin. */
export function coldReadingsByNet(chosen: ChosenKit): Readonly<Record<string, readonly string[]>> {
  const cold = new Set(chosen.conditions.filter(({ supply }) => supply === 'unplugged').map(({ id }) => id));
  const readings = chosen.readings.filter((reading) => reading.measure === 'ohms' && cold.has(reading.in));
  const grounds = new Set(['gnd', 'chassis'].map((place) => netOfPlace(chosen, place)));
  const result: Record<string, readonly string[]> = {};
  for (const [net, places] of Object.entries(chosen.placesOf)) {
    const beside = places.flatMap((place) =>
      neighboursOf(chosen, place).map((other) => netOfPlace(chosen, other)),
    );
    // The chassis is beside everything; its readings are those of the other probe.
    const near = new Set([net, ...beside].filter((each) => !grounds.has(each)));
    result[net] = readings
      .filter(({ at, against }) => [at, against].some((place) => near.has(netOfPlace(chosen, place))))
      .map(({ id }) => id);
  }
  return result;
}
