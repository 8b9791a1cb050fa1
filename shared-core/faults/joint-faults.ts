import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Lead, Part, Place } from '../kit/kit.ts';
import { isPlace } from '../kit/nets.ts';
import { neighboursOf } from '../prediction/neighbours.ts';
import type { Fault } from './fault.ts';
import { rewire } from './fault.ts';

/** An end of something that is soldered to a place. */
interface SolderedEnd {
  readonly owner: string;
  readonly place: Place;
  /** What it is: a part's own name, or "the brown lead W3". */
  readonly says: string;
  /** The kit with this end somewhere else. */
  readonly moveTo: (chosen: ChosenKit, place: Place) => ChosenKit;
}

/** Every end of parts and leads that sits on a place of its own. */
function solderedEnds(chosen: ChosenKit): readonly SolderedEnd[] {
  const ends: SolderedEnd[] = [];
  for (const part of chosen.parts) {
    if (!('between' in part)) continue;
    part.between.forEach((place, index) => {
      if (!isPlace(place)) return;
      ends.push({
        ...{ owner: part.id, place, says: part.id },
        moveTo: (kit, to) =>
          rewire(kit, { parts: kit.parts.map((each) => moveEnd(each, part.id, index, to)) }),
      });
    });
  }
  for (const lead of chosen.leads) {
    for (const side of ['from', 'to'] as const) {
      if (!isPlace(lead[side])) continue;
      ends.push({
        ...{ owner: lead.id, place: lead[side], says: leadWords(lead) },
        moveTo: (kit, to) =>
          rewire(kit, {
            leads: kit.leads.map((each) => (each.id === lead.id ? { ...each, [side]: to } : each)),
          }),
      });
    }
  }
  return ends;
}

function moveEnd(part: Part, id: string, index: number, to: Place): Part {
  if (part.id !== id || !('between' in part)) return part;
  const [first, second] = part.between;
  return { ...part, between: index === 0 ? [to, second] : [first, to] };
}

/** A lead as a builder would call it: "the brown lead W3". */
export function leadWords({ colour, id }: Pick<Lead, 'colour' | 'id'>): string {
  return `the ${colour} lead ${id}`;
}

/**
 * Faults of soldering: joints that do not hold, ends on the place beside, places bridged.
 *
 * Net names as ends (printed boards) have no joints to go wrong.
 */
export function jointFaults(chosen: ChosenKit): readonly Fault[] {
  const ends = solderedEnds(chosen);
  return [
    ...missingLeads(chosen),
    ...missingJoints(ends),
    ...missingPins(chosen, ends),
    ...misplaced(chosen, ends),
    ...bridged(chosen),
  ];
}

/** A lead that makes no contact: either joint, or the lead left out; a ground link among them. */
function missingLeads(chosen: ChosenKit): readonly Fault[] {
  return chosen.leads.map((lead) => ({
    part: lead.id,
    kind: 'joint missing',
    sort: 'joint missing',
    words: `${leadWords(lead)} makes no contact at ${lead.from} or at ${lead.to}`,
    places: [lead.to, lead.from],
    build: (built) => ({
      ...built,
      chosen: rewire(built.chosen, { leads: built.chosen.leads.filter(({ id }) => id !== lead.id) }),
    }),
  }));
}

/** A part of two ends with one of them loose is out of the circuit: the same as the part left out. */
function missingJoints(ends: readonly SolderedEnd[]): readonly Fault[] {
  return ends
    .filter(({ owner, says }) => owner === says)
    .map(({ owner, place }) => ({
      part: owner,
      kind: `joint missing at ${place}`,
      sort: 'joint missing',
      words: `the joint of ${owner} at ${place} makes no contact`,
      places: [place],
      build: (built) => ({
        ...built,
        chosen: rewire(built.chosen, { parts: built.chosen.parts.filter(({ id }) => id !== owner) }),
      }),
    }));
}

/** Everything at a pin or terminal holds together but not on the metal. */
function missingPins(chosen: ChosenKit, ends: readonly SolderedEnd[]): readonly Fault[] {
  const pins = chosen.parts.flatMap((part) =>
    part.kind === 'tag-strip' || part.kind === 'hardware' ? [] : [part.id],
  );
  const counts = new Map<Place, number>();
  for (const { place } of ends) {
    const owner = place.slice(0, place.indexOf('.'));
    if (pins.includes(owner)) counts.set(place, (counts.get(place) ?? 0) + 1);
  }
  return [...counts].map(([place, count]) => ({
    part: place.slice(0, place.indexOf('.')),
    kind: `joint missing at ${place}`,
    sort: 'joint missing',
    words: `nothing at ${place} is soldered to the ${place.startsWith('V') ? 'pin' : 'terminal'} itself`,
    places: [place],
    build: (built) => {
      const loose = ends.filter((end) => end.place === place);
      const off = count === 0 ? [] : loose;
      return { ...built, chosen: off.reduce((kit, end) => end.moveTo(kit, `${place}'`), built.chosen) };
    },
  }));
}

function misplaced(chosen: ChosenKit, ends: readonly SolderedEnd[]): readonly Fault[] {
  return ends.flatMap(({ owner, place, says, moveTo }) =>
    neighboursOf(chosen, place).flatMap((beside): readonly Fault[] => {
      if (chosen.netOf[beside] === chosen.netOf[place]) return [];
      return [
        {
          part: owner,
          kind: `on ${beside} instead of ${place}`,
          sort: 'wrong place',
          words: `${says} sits on ${beside} instead of ${place}`,
          places: [beside, place],
          build: (built) => ({ ...built, chosen: moveTo(built.chosen, beside) }),
        },
      ];
    }),
  );
}

/** Solder or a stray strand between pins or tags that are beside each other. */
function bridged(chosen: ChosenKit): readonly Fault[] {
  const seen = new Set<string>();
  return Object.keys(chosen.netOf).flatMap((place) =>
    neighboursOf(chosen, place).flatMap((beside): readonly Fault[] => {
      const key = [place, beside].toSorted().join(' ');
      if (seen.has(key) || chosen.netOf[beside] === chosen.netOf[place]) return [];
      seen.add(key);
      const [owner = '', one = ''] = place.split('.');
      const other = beside.split('.')[1] ?? '';
      const what = chosen.parts.find(({ id }) => id === owner)?.kind === 'tag-strip' ? 'tags' : 'pins';
      return [
        {
          part: owner,
          kind: `${what} ${one} and ${other} bridged`,
          sort: 'bridge',
          words: `${what} ${one} and ${other} of ${owner} are bridged`,
          places: [place, beside],
          build: (built) => ({
            ...built,
            chosen: rewire(built.chosen, { leads: [...built.chosen.leads, bridge(place, beside)] }),
          }),
        },
      ];
    }),
  );
}

function bridge(from: Place, to: Place): Lead {
  return { id: 'bridge', when: {}, from, to, colour: 'tinned', metres: null, style: 'bare' };
}
