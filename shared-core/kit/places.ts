import { findValveBase } from '../valves/bases.ts';
import type { OutputTransformerPart, Part, Place } from './kit.ts';
import { primaryEndsOf, windingEndsOf } from './transformer-ends.ts';

/** Pins offered for a base that is not in the catalogue, which is reported on its own. */
const UNKNOWN_BASE_PINS = 12;

/**
 * The ends that a part has of its own: pins, tags, terminals.
 *
 * Parts that are soldered `between` two places have none; their ends are those places.
 */
export function endsOf(part: Part): readonly string[] {
  switch (part.kind) {
    case 'potentiometer':
      return ['ccw', 'wiper', 'cw'];
    case 'valve':
      return numbers(findValveBase(part.socket.base)?.pins ?? UNKNOWN_BASE_PINS);
    case 'mains-transformer':
      return [...primaryEndsOf(part).map(({ end }) => end), ...part.windings.flatMap(windingEndsOf)];
    case 'output-transformer':
      return [...primaryEnds(part), 'secondary.a', 'secondary.b'];
    case 'transistor':
      return part.gate ? ['g', 'd', 's'] : ['e', 'b', 'c'];
    case 'regulator':
      return ['in', 'out', 'adj'];
    case 'fuse':
      return ['a', 'b'];
    case 'switch':
      return numbers(part.poles).flatMap((pole) => [`a${pole}`, `b${pole}`]);
    case 'mains-inlet':
      return ['line', 'neutral', 'earth'];
    case 'tag-strip':
      return numbers(part.tags);
    case 'jack':
      return part.terminals;
    default:
      return [];
  }
}

/** The places that a part brings with it. An inlet's are also reachable as `inlet.line` … */
export function placesOfPart(part: Part): readonly Place[] {
  const places = endsOf(part).map((end) => `${part.id}.${end}`);
  return part.kind === 'mains-inlet' ? [...endsOf(part).map((end) => `inlet.${end}`), ...places] : places;
}

/**
 * Other names of the places a part is soldered between: `R4.1`, `C5.+`, `D1.a`, `L1.2`.
 *
 * @returns Name to place.
 */
export function ownEndNames(part: Part): readonly (readonly [string, Place])[] {
  if (!('between' in part)) return [];
  const [first, second] = part.between;
  const names: readonly (readonly [string, string])[] =
    part.kind === 'capacitor'
      ? [
          ['+', '-'],
          ['+', '\u2212'],
        ]
      : part.kind === 'diode' || part.kind === 'zener' || part.kind === 'led'
        ? [['a', 'k']]
        : [['1', '2']];
  return names.flatMap(([one, two]) => [
    [`${part.id}.${one}`, first] as const,
    [`${part.id}.${two}`, second] as const,
  ]);
}

/** The part that a place belongs to: `T1` for `T1.ht.ct`; null for `chassis`, a net or `inlet.line`. */
export function partIdOf(place: Place): string | null {
  const [head = '', ...rest] = place.split('.');
  return rest.length === 0 || head === 'inlet' ? null : head;
}

/** Orders places as people count: `V1.2` before `V1.10`. */
export function comparePlaces(one: Place, two: Place): number {
  const pattern = /(\d+)|(\D+)/g;
  const [a, b] = [one.match(pattern) ?? [], two.match(pattern) ?? []];
  for (let i = 0; i < Math.min(a.length, b.length); i += 1) {
    const [x = '', y = ''] = [a[i], b[i]];
    if (x === y) continue;
    const difference = Number(x) - Number(y);
    return Number.isNaN(difference) || difference === 0 ? (x < y ? -1 : 1) : difference;
  }
  return a.length - b.length;
}

/** The ends of an output transformer's primary; taps only where the kit says at what part of the turns they are. */
function primaryEnds(part: OutputTransformerPart): readonly string[] {
  if (!part.pushPull) {
    return ['primary.a', 'primary.b', ...(part.screenTaps === undefined ? [] : ['primary.tap'])];
  }
  const taps = part.screenTaps === undefined ? [] : ['primary.tap-a', 'primary.tap-b'];
  return ['primary.a', 'primary.ct', 'primary.b', ...taps];
}

function numbers(count: number): string[] {
  return Array.from({ length: count }, (_, n) => String(n + 1));
}
