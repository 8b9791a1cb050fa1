import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, Part, Place } from '../kit/kit.ts';

/** The nets of a kit in one condition: closed switches, whole fuses and shorted inputs join them. */
export interface Wiring {
  /** Net that everything is measured from: the chassis where there is one. */
  readonly reference: string;
  /** Net of a place, a net label or a reserved name; a place that nothing is soldered to is its own net. */
  readonly netAt: (place: Place) => string;
  /** All nets that were joined into one, by any of their names. */
  readonly membersOf: (net: string) => readonly string[];
}

/** What of a condition joins nets. */
type WiringOf = Pick<Condition, 'switches'> & Partial<Pick<Condition, 'input'>>;

/**
 * The places that are one net in a condition.
 *
 * @param condition Null for the bare kit: switches as they rest (off), fuses in place.
 */
export function wireCondition(chosen: ChosenKit, condition: WiringOf | null): Wiring {
  const parent = new Map<string, string>();
  const find = (net: string): string => {
    const up = parent.get(net);
    if (up === undefined || up === net) return net;
    const top = find(up);
    parent.set(net, top);
    return top;
  };
  const join = (first: string, second: string): void => {
    const [one, other] = [find(first), find(second)];
    if (one !== other) parent.set(nameFirst(one, other) ? other : one, nameFirst(one, other) ? one : other);
  };
  const plainNet = (place: Place): string => netOfPlace(chosen, place);
  for (const part of chosen.parts) {
    for (const [first, second] of joinedByPart(part, condition)) join(plainNet(first), plainNet(second));
  }
  const members = new Map<string, string[]>();
  for (const net of Object.keys(chosen.placesOf)) {
    members.set(find(net), [...(members.get(find(net)) ?? []), net]);
  }
  return {
    reference: find(plainNet(hasNet(chosen, 'chassis') ? 'chassis' : 'gnd')),
    netAt: (place) => find(plainNet(place)),
    membersOf: (net) => members.get(find(net)) ?? [net],
  };
}

/** Names that a builder would use come before names made from places. */
function nameFirst(one: string, other: string): boolean {
  const rank = (name: string): number => (name === 'gnd' ? 0 : /^[a-z][a-z0-9-]*$/.test(name) ? 1 : 2);
  return rank(one) < rank(other) || (rank(one) === rank(other) && one <= other);
}

function hasNet(chosen: ChosenKit, place: Place): boolean {
  return place in chosen.netOf || place in chosen.nets || place in chosen.placesOf;
}

/** Net of a place before any switch is closed. */
export function netOfPlace(chosen: ChosenKit, place: Place): string {
  const direct = chosen.netOf[place];
  if (direct !== undefined) return direct;
  const labelled = chosen.nets[place];
  if (labelled !== undefined) return chosen.netOf[labelled] ?? place;
  if (place.startsWith('inlet.')) {
    const inlet = chosen.parts.find((part) => part.kind === 'mains-inlet');
    const net = inlet && chosen.netOf[`${inlet.id}.${place.slice('inlet.'.length)}`];
    if (net !== undefined) return net;
  }
  return place;
}

function joinedByPart(part: Part, condition: WiringOf | null): readonly (readonly [Place, Place])[] {
  if (part.kind === 'fuse') return [[`${part.id}.a`, `${part.id}.b`]];
  if (part.kind === 'switch' && condition?.switches[part.id] === 'on') {
    return Array.from({ length: part.poles }, (_, pole) => [
      `${part.id}.a${pole + 1}`,
      `${part.id}.b${pole + 1}`,
    ]);
  }
  if (part.kind === 'jack' && part.role === 'input' && condition?.input === 'shorted') {
    const [first, second] = part.terminals;
    return first && second ? [[`${part.id}.${first}`, `${part.id}.${second}`]] : [];
  }
  if (part.kind === 'tag-strip') {
    return part.earthed.map((tag) => [`${part.id}.${tag}`, 'chassis'] as const);
  }
  return [];
}

/** Whether a part is in its place in a condition: only valves are ever left out. */
export function isFitted(part: Part, condition: Condition): boolean {
  if (part.kind !== 'valve') return true;
  return condition.fitted === 'all' || condition.fitted.includes(part.id);
}
