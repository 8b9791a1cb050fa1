import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Place } from '../kit/kit.ts';

/** Pins of a base, and whether the last stands next to the first (no gap between them). */
const rings: Readonly<Record<string, { readonly pins: number; readonly closed: boolean }>> = {
  b9a: { pins: 9, closed: false },
  noval: { pins: 9, closed: false },
  b7g: { pins: 7, closed: false },
  octal: { pins: 8, closed: true },
  'ux-4': { pins: 4, closed: true },
  ux4: { pins: 4, closed: true },
};

/**
 * The pins or tags beside a place: where a slipping probe ends up.
 *
 * @returns None for places that are not a pin or a tag.
 */
export function neighboursOf(chosen: ChosenKit, place: Place): readonly Place[] {
  const match = /^(.+)\.(\d+)$/.exec(place);
  const part = match && chosen.parts.find((candidate) => candidate.id === match[1]);
  if (!match || !part) return [];
  const number = Number(match[2]);
  if (part.kind === 'tag-strip') {
    return [number - 1, number + 1]
      .filter((tag) => tag >= 1 && tag <= part.tags)
      .map((tag) => `${part.id}.${tag}`);
  }
  if (part.kind !== 'valve') return [];
  const ring = rings[part.socket.base.toLowerCase()];
  if (!ring) return [];
  const beside = [number - 1, number + 1].map((pin) =>
    ring.closed ? ((pin - 1 + ring.pins) % ring.pins) + 1 : pin,
  );
  return beside.filter((pin) => pin >= 1 && pin <= ring.pins).map((pin) => `${part.id}.${pin}`);
}
