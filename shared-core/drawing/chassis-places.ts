import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Part, Place } from '../kit/kit.ts';
import { primaryEndsOf, windingEndsOf } from '../kit/transformer-ends.ts';
import { findValveBase, pinDegrees } from '../valves/bases.ts';

/** A spot on the chassis seen from below, in millimetres (mm) from the left rear corner. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** Distance between neighbouring tags of a strip, in millimetres (mm): common practice, no source. */
const tagPitch = 8;

/** Pins are drawn further out than they are, so that they can be told apart. */
const pinCircle = 8;

/**
 * Where a place sits, or null where the layout does not say.
 *
 * The end of a two-ended part is the place it is soldered to; `chassis` is nowhere in particular.
 */
export function spotOf(kit: ChosenKit, place: Place): Spot | null {
  const [id, ...rest] = place.split('.');
  const part = partNamed(kit, id ?? '');
  const centre = part === null ? undefined : kit.layout[part.id];
  if (part === null || centre === undefined) return null;
  const [x, y, turn] = centre;
  const [dx, dy] = offset(part, rest.join('.'), turn);
  return { x: x + dx, y: y + dy };
}

function partNamed(kit: ChosenKit, id: string): Part | null {
  const wanted =
    id === 'inlet' ? (part: Part) => part.kind === 'mains-inlet' : (part: Part) => part.id === id;
  return kit.parts.find(wanted) ?? null;
}

/** Turns a vector clockwise. */
function turned(x: number, y: number, degrees: number): [number, number] {
  const angle = (degrees * Math.PI) / 180;
  return [x * Math.cos(angle) - y * Math.sin(angle), x * Math.sin(angle) + y * Math.cos(angle)];
}

function offset(part: Part, end: string, turn: number): [number, number] {
  switch (part.kind) {
    case 'tag-strip':
      return turned((Number(end) - (part.tags + 1) / 2) * tagPitch, 0, turn);
    case 'valve': {
      const base = findValveBase(part.socket.base);
      if (base === undefined) return [0, 0];
      return turned(0, -pinCircle, part.socket.gapFaces + pinDegrees(base, Number(end)));
    }
    case 'potentiometer':
      return turned({ ccw: -6, wiper: 0, cw: 6 }[end] ?? 0, -9, turn);
    case 'mains-inlet':
      return turned({ line: -8, earth: 0, neutral: 8 }[end] ?? 0, 7, turn);
    case 'switch':
      return turned(end.endsWith('1') ? -4 : 4, end.startsWith('a') ? -6 : 6, turn);
    case 'fuse':
      return turned(end === 'a' ? -11 : 11, 0, turn);
    case 'jack':
      return turned((part.terminals.indexOf(end) - (part.terminals.length - 1) / 2) * 9, 8, turn);
    case 'mains-transformer':
    case 'output-transformer':
      return turned(...windingEnd(part, end), turn);
    default:
      return [0, 0];
  }
}

/** Leads leave a transformer side by side: the primary on one long side, the rest on the other. */
function windingEnd(part: Part, end: string): [number, number] {
  const [width, height] = footprint(part);
  const names =
    part.kind === 'mains-transformer' ? part.windings.flatMap(windingEndsOf) : ['secondary.a', 'secondary.b'];
  const isPushPull = part.kind === 'output-transformer' && part.pushPull === true;
  const primary =
    part.kind === 'mains-transformer' && part.primary.taps
      ? primaryEndsOf(part).map((each) => each.end)
      : isPushPull
        ? ['primary.a', 'primary.tap-a', 'primary.ct', 'primary.tap-b', 'primary.b']
        : ['primary.a', 'primary.tap', 'primary.b'];
  const row = end.startsWith('primary') ? primary : names;
  const side = end.startsWith('primary') ? -height / 2 : height / 2;
  const index = Math.max(row.indexOf(end), 0);
  return [((index + 0.5) / row.length - 0.5) * width * 0.8, side];
}

/** Width and depth of what a part covers, in millimetres (mm): typical sizes, for the drawing only. */
export function footprint(part: Part): readonly [number, number] {
  switch (part.kind) {
    case 'mains-transformer':
      return [66, 54];
    case 'output-transformer':
      return [50, 34];
    case 'choke':
      return [46, 38];
    case 'tag-strip':
      return [part.tags * tagPitch, 7];
    case 'valve':
      return [24, 24];
    case 'potentiometer':
      return [20, 20];
    case 'mains-inlet':
      return [28, 16];
    case 'fuse':
      return [28, 11];
    case 'switch':
      return [16, 18];
    case 'jack':
      return [8 + part.terminals.length * 8, 14];
    default:
      return [8, 8];
  }
}
