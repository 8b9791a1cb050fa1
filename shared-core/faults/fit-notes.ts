import type { ChosenKit } from '../kit/chosen-kit.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { ValveType } from '../valves/valve-type.ts';
import { valveDuty } from './fit-electrodes.ts';
import type { MovedReading } from './fit-report.ts';
import type { ComparedSocket, SolvedFit } from './fit-solved.ts';

/** "also sold as 12AX7, 12AX7A, 7025": the other names that the catalogue gives a type; null where there is none. */
export function alsoSoldAs({ synonyms }: Pick<ValveType, 'synonyms'>): string | null {
  return synonyms.length === 0 ? null : `also sold as ${synonyms.join(', ')}`;
}

/** What to know about one socket and its type, in sentences. */
export function socketNotes(chosen: ChosenKit, compared: ComparedSocket): readonly string[] {
  const { socket, type, askedAs, pins } = compared;
  const names = alsoSoldAs(type);
  const isNamedOtherwise = askedAs.trim().toUpperCase() !== type.name.toUpperCase();
  const set = chosen.matched?.find((sockets) => sockets.includes(socket.part.id));
  const others = (set ?? []).filter((id) => id !== socket.part.id);
  const isQuick =
    valveDuty(type) === 'rectifier' &&
    type.heater.heating === 'direct' &&
    socket.kitType.heater.heating === 'indirect';
  return [
    ...(isNamedOtherwise
      ? [`${askedAs.trim()} is another name of ${type.name}: the same valve on the same pins.`]
      : names === null
        ? []
        : [`${type.name} is ${names}.`]),
    ...(type === socket.kitType ? [] : [...pinDoubts(type), ...ratingDoubts(type)]),
    ...(pins.idleSections.length > 0
      ? [`Nothing is soldered to section ${pins.idleSections.join(', ')} of ${type.name}: it stays idle.`]
      : []),
    ...pins.floatingShields.map((pin) => `The shield of ${type.name} on pin ${pin} floats: it may hum.`),
    ...(others.length > 0 && type !== socket.kitType
      ? [
          `${socket.part.id} is one of a matched set with ${others.join(', ')}: fit the same type in all of them.`,
        ]
      : []),
    ...(isQuick
      ? [
          `${type.name} is hot within seconds, before the other valves draw current: the high tension stands at its highest until then.`,
        ]
      : []),
  ];
}

/** Pins whose source has to be verified: all of them, or those that carry nothing. */
function pinDoubts({ name, pinSource }: ValveType): readonly string[] {
  if (!pinSource.includes('to be verified')) return [];
  const which = pinSource.includes('unused pins') ? `unused pins of ${name}` : `pins of ${name}`;
  return [`The ${which} are to be verified: compare them with the maker’s sheet before it goes in.`];
}

function ratingDoubts({ name, ratings }: ValveType): readonly string[] {
  const isDoubted = ratings.some(({ source }) => source.includes('to be verified'));
  return isDoubted ? [`Some ratings of ${name} are from memory, to be verified.`] : [];
}

/** What to know about the whole. */
export function fitNotes(
  solved: SolvedFit | null,
  readings: readonly MovedReading[],
  sockets: readonly ComparedSocket[],
): readonly string[] {
  const lost = readings.filter(({ after }) => after === null);
  const whys = [...new Set(lost.flatMap(({ why }) => why ?? []))];
  const left = sockets.filter(({ pins }) => pins.findings.length > 0).map(({ socket }) => socket.part.id);
  return [
    ...(solved?.set.adjusters ?? []).map(
      ({ control, reading, after, before }) =>
        `${control} is set anew by ${reading}: to about ${percent(after)} of its turn instead of ${percent(before)}, from most negative upwards.`,
    ),
    ...(lost.length > 0
      ? [
          `${lost.length} ${lost.length === 1 ? 'reading' : 'readings'} can no longer be predicted: ${whys.join('; ')}.`,
        ]
      : []),
    ...(solved && left.length > 0
      ? [`Readings and ratings are those with the kit’s own type in ${left.join(', ')}.`]
      : []),
  ];
}

function percent(share: number): string {
  return formatQuantity(Math.round(share * 100) / 100, '%', 2);
}
