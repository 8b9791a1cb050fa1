import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { CapacitorPart, Part, ResistorPart } from '../kit/kit.ts';
import { resistorBands } from '../units/markings.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Fault } from './fault.ts';

/** Colours that lamp light, age or heat make one of: common practice, no source. */
const confusableColours: readonly (readonly [string, string])[] = [
  ['brown', 'red'],
  ['red', 'orange'],
  ['brown', 'orange'],
  ['orange', 'yellow'],
  ['yellow', 'white'],
  ['green', 'blue'],
  ['blue', 'violet'],
  ['blue', 'grey'],
  ['violet', 'grey'],
  ['grey', 'white'],
  ['black', 'brown'],
  ['gold', 'yellow'],
];

/**
 * Parts of a kit that were fitted in each other's place.
 *
 * Two parts look alike when their bodies are the same (power or voltage rating, kind) and their markings can
 * be confused: one colour band of IEC 60062 differs, or two bands are exchanged; of capacitors the digits are the
 * same and the multiplier is not, or the values are within ten times.
 */
export function lookAlikeFaults(chosen: ChosenKit): readonly Fault[] {
  const { parts } = chosen;
  return parts.flatMap((one, index) =>
    parts.slice(index + 1).flatMap((other): readonly Fault[] => {
      if (one.kind === 'resistor' && other.kind === 'resistor' && areResistorsAlike(one, other)) {
        return bothNames(one, other, 'ohms', 'Ω');
      }
      if (one.kind === 'capacitor' && other.kind === 'capacitor' && areCapacitorsAlike(one, other)) {
        return bothNames(one, other, 'farads', 'F');
      }
      return [];
    }),
  );
}

/** Whether two resistors of a kit can be taken for each other. */
export function areResistorsAlike(one: ResistorPart, other: ResistorPart): boolean {
  if (one.ohms === other.ohms || one.watts !== other.watts) return false;
  const [first, second] = [bandsOf(one), bandsOf(other)];
  if (!first || !second) return false;
  const different = first.flatMap((colour, place) => (colour === second[place] ? [] : [place]));
  if (different.length === 1) {
    const [place = 0] = different;
    // A wrong multiplier is the usual mistake whatever the colours are.
    return place === first.length - 1 || areColoursAlike(first[place] ?? '', second[place] ?? '');
  }
  const [left = 0, right = 0] = different;
  return different.length === 2 && first[left] === second[right] && first[right] === second[left];
}

/** Digits and multiplier, without the tolerance. */
function bandsOf({ ohms, tolerance }: ResistorPart): readonly string[] | null {
  const count = tolerance.high <= 0.02 ? 5 : 4;
  return resistorBands(ohms, tolerance.high, count)?.slice(0, count - 1) ?? null;
}

function areColoursAlike(one: string, other: string): boolean {
  return confusableColours.some((pair) => pair.includes(one) && pair.includes(other) && one !== other);
}

function areCapacitorsAlike(one: CapacitorPart, other: CapacitorPart): boolean {
  if (one.type !== other.type || one.farads === other.farads) return false;
  const ratio = Math.max(one.farads / other.farads, other.farads / one.farads);
  return one.volts === other.volts && ratio <= 10;
}

/** The exchange is one fault; it is listed under both parts, so that either name finds it. */
function bothNames(
  one: ResistorPart | CapacitorPart,
  other: ResistorPart | CapacitorPart,
  figure: 'ohms' | 'farads',
  unit: 'Ω' | 'F',
): readonly Fault[] {
  const valueOf = (part: Part): number => (part as unknown as Record<string, number>)[figure] ?? 0;
  const swapped = (part: Part): Part => {
    if (part.id === one.id) return { ...one, [figure]: valueOf(other) } as Part;
    return part.id === other.id ? ({ ...other, [figure]: valueOf(one) } as Part) : part;
  };
  const say = (part: Part): string => `${part.id} (${formatQuantity(valueOf(part), unit)})`;
  return [
    {
      part: one.id,
      kind: `exchanged with ${other.id}`,
      sort: 'exchanged part',
      words: `${say(one)} and ${say(other)} are in each other's place`,
      places: [...one.between, ...other.between],
      build: (built) => ({
        ...built,
        chosen: { ...built.chosen, parts: built.chosen.parts.map(swapped) },
      }),
    },
  ];
}
