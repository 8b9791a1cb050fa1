import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Place } from '../kit/kit.ts';
import { findValveBase } from '../valves/bases.ts';

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
  const base = findValveBase(part.socket.base);
  if (!base) return [];
  const isClosed = base.places === base.pins;
  const beside = [number - 1, number + 1].map((pin) =>
    isClosed ? ((pin - 1 + base.pins) % base.pins) + 1 : pin,
  );
  return beside.filter((pin) => pin >= 1 && pin <= base.pins).map((pin) => `${part.id}.${pin}`);
}
