import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Place, Reading, ValvePart } from '../kit/kit.ts';
import { neighboursOf } from '../prediction/neighbours.ts';
import { netOfPlace } from '../prediction/wiring.ts';
import { findValveBase } from '../valves/bases.ts';
import { findValveType } from '../valves/index.ts';

/** The slips of measuring, in the order in which they are looked for. */
export const slipKinds = [
  'leads reversed',
  'AC and DC confused',
  'range or unit',
  'hold is on',
  'neighbouring pin or tag',
  'pin counted from above',
  'other section or channel',
  'wrong condition',
  'wrong reference point',
] as const;

export type SlipKind = (typeof slipKinds)[number];

/** A place where the builder may have measured instead of the one asked for. */
export interface Elsewhere {
  readonly kind: SlipKind;
  /** The reading that was really taken. */
  readonly reading: Reading;
  readonly words: string;
}

/** Every reading that a slip may have taken instead of one, in the order of the kinds. */
export function elsewhere(chosen: ChosenKit, reading: Reading): readonly Elsewhere[] {
  const at = chosen.nets[reading.at] ?? reading.at;
  const found: Elsewhere[] = [];
  const add = (kind: SlipKind, change: Partial<Reading>, words: string): void => {
    const taken = { ...reading, ...change };
    const isSame =
      taken.in === reading.in &&
      taken.measure === reading.measure &&
      netOfPlace(chosen, taken.at) === netOfPlace(chosen, reading.at) &&
      netOfPlace(chosen, taken.against) === netOfPlace(chosen, reading.against);
    if (isSame) return;
    const id = `${kind} ${taken.at} ${taken.against} ${taken.measure} ${taken.in}`;
    found.push({ kind, words, reading: { ...taken, id, expect: null } });
  };
  if (reading.measure === 'ac volts') {
    add('AC and DC confused', { measure: 'dc volts' }, 'the meter stands on DC instead of AC');
  }
  for (const place of neighboursOf(chosen, at)) {
    add('neighbouring pin or tag', { at: place }, `the probe is on ${place} beside ${at}`);
  }
  for (const [kind, place, words] of otherPins(chosen, at)) add(kind, { at: place }, words);
  for (const place of otherChannel(chosen, at)) {
    const against = otherChannel(chosen, reading.against)[0] ?? reading.against;
    add('other section or channel', { at: place, against }, `the probe is on the other channel, ${place}`);
  }
  for (const condition of likeConditions(chosen, reading)) {
    add('wrong condition', { in: condition.id }, `the amplifier is still as for "${condition.title}"`);
  }
  for (const place of otherReferences(chosen, reading)) {
    add('wrong reference point', { against: place }, `the black lead is on ${place}`);
  }
  return found;
}

/** The pin that has this number when counted from above, and the same electrode of the other section. */
function otherPins(chosen: ChosenKit, at: Place): readonly (readonly [SlipKind, Place, string])[] {
  const match = /^(.+)\.(\d+)$/.exec(at);
  const part = chosen.parts.find(({ id }) => id === match?.[1]);
  if (!match || part?.kind !== 'valve') return [];
  const pin = Number(match[2]);
  const pins = findValveBase(part.socket.base)?.pins ?? 0;
  const mirrored = `${part.id}.${pins + 1 - pin}`;
  const others = electrodePins(part, pin, chosen).map(
    (other) =>
      [
        'other section or channel',
        `${part.id}.${other}`,
        `the probe is on the other section, ${part.id}.${other}`,
      ] as const,
  );
  return [
    ['pin counted from above', mirrored, `the pins were counted from above: the probe is on ${mirrored}`],
    ...others,
  ];
}

function electrodePins(part: ValvePart, pin: number, chosen: ChosenKit): readonly number[] {
  const sections = findValveType(part.type, chosen.valves)?.sections ?? [];
  return sections.flatMap((section) => {
    const [name] = Object.entries(section.pins).find(([, own]) => own === pin) ?? [];
    if (name === undefined) return [];
    return sections.flatMap((other) => (other === section ? [] : (other.pins[name] ?? [])));
  });
}

function otherChannel(chosen: ChosenKit, place: Place): readonly Place[] {
  const other = place.includes('-left') ? place.replace('-left', '-right') : place.replace('-right', '-left');
  return other !== place && other in chosen.netOf ? [other] : [];
}

/** Conditions of the same kind of supply in which the kit takes readings. */
function likeConditions(chosen: ChosenKit, reading: Reading): ChosenKit['conditions'] {
  const own = chosen.conditions.find(({ id }) => id === reading.in);
  const used = new Set(chosen.readings.map((each) => each.in));
  return chosen.conditions.filter(
    ({ id, supply, input }) =>
      id !== reading.in && supply === own?.supply && input === own.input && used.has(id),
  );
}

/** The other places that the kit's readings are taken against, and the chassis. */
function otherReferences(chosen: ChosenKit, { against, measure }: Reading): readonly Place[] {
  if (measure === 'gain') return [];
  const used = chosen.readings.map((each) => each.against).filter((place) => place in chosen.nets);
  return [...new Set(['chassis', ...used])].filter((place) => place !== against);
}
