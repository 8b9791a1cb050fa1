import { didYouMean } from '../did-you-mean.ts';
import { isBroken } from '../draft.ts';
import type { Finding, KitDraft } from '../draft.ts';
import type { Part, Place } from '../kit.ts';
import { endsOf, ownEndNames } from '../places.ts';
import { otherPinOf } from '../valve-pins.ts';

const INLET_ENDS = ['line', 'neutral', 'earth'];

/**
 * What is wrong with a place, if anything.
 *
 * @param use To `solder` at a place it must be a terminal that is free for wiring; to `measure` there, the own
 *   end of a resistor (`R4.1`) will do as well.
 */
export function findPlaceProblem(
  draft: KitDraft,
  place: Place,
  path: string,
  use: 'solder' | 'measure',
): Finding | null {
  if (place === 'chassis') return null;
  const point = place.indexOf('.');
  if (point < 0) return findNetProblem(draft, place, path);
  const [id, end] = [place.slice(0, point), place.slice(point + 1)];
  if (id === 'inlet') return findInletProblem(draft, end, path);
  if (!draft.declared.parts.has(id)) {
    const message = `There is no part "${id}", so no place "${place}"`;
    return { code: 'kit/unknown-part', path, message, hint: didYouMean(id, [...draft.declared.parts]) };
  }
  const parts = draft.kit.parts.filter((part) => part.id === id);
  if (parts.length === 0 || isBroken(draft, 'parts', id)) return null;
  const problems = parts.map((part) => findEndProblem(draft, part, end, place, path, use));
  return problems.find((problem) => problem === null) === null ? null : (problems[0] ?? null);
}

function findNetProblem(draft: KitDraft, name: string, path: string): Finding | null {
  if (draft.declared.nets.has(name)) return null;
  const known = [...draft.declared.nets, 'chassis'];
  if (draft.declared.parts.has(name)) {
    const message = `"${name}" is a part; a place names one of its ends`;
    return { code: 'kit/unknown-end', path, message, hint: `Write "${name}." and the pin, tag or terminal.` };
  }
  const message = `There is no net "${name}"`;
  return { code: 'kit/unknown-net', path, message, hint: didYouMean(name, known) };
}

function findInletProblem(draft: KitDraft, end: string, path: string): Finding | null {
  if (!INLET_ENDS.includes(end)) {
    const message = `The inlet has no end "${end}"`;
    return { code: 'kit/unknown-end', path, message, hint: didYouMean(end, INLET_ENDS) };
  }
  const hasInlet = draft.kit.parts.some(({ kind }) => kind === 'mains-inlet') || draft.broken.size > 0;
  if (hasInlet) return null;
  const message = 'There is no mains inlet among the parts';
  return { code: 'kit/unknown-part', path, message, hint: 'Add a part of kind mains-inlet.' };
}

function findEndProblem(
  draft: KitDraft,
  part: Part,
  end: string,
  place: Place,
  path: string,
  use: 'solder' | 'measure',
): Finding | null {
  const ends = endsOf(part);
  const own = ownEndNames(part).map(([name]) => name.slice(part.id.length + 1));
  if (use === 'measure' && own.includes(end)) return null;
  if (own.length > 0) {
    const where = 'between' in part ? part.between.join(' and ') : '';
    const message = `${part.id} has no end "${end}" to ${use} at`;
    return { code: 'kit/unknown-end', path, message, hint: `Its ends are soldered at ${where}: name those.` };
  }
  if (part.kind === 'valve') return findPinProblem(draft, part, end, path, use);
  if (ends.includes(end)) return null;
  const message = `${part.id} has no end "${end}", so there is no place "${place}"`;
  return { code: 'kit/unknown-end', path, message, hint: didYouMean(end, ends) };
}

/** Pins that the base does not have, and joints on pins that the valve type keeps for itself. */
function findPinProblem(
  draft: KitDraft,
  part: Extract<Part, { kind: 'valve' }>,
  end: string,
  path: string,
  use: 'solder' | 'measure',
): Finding | null {
  const pins = endsOf(part);
  if (!pins.includes(end)) {
    const message = `The ${part.socket.base} socket of ${part.id} has pins 1 to ${pins.length}, no pin "${end}"`;
    const hint = 'Count clockwise from the gap, seen from below.';
    return { code: 'kit/pin-mismatch', path, message, hint };
  }
  const other = otherPinOf(part, end, draft.kit.valves);
  const isKept = other?.role === 'internal' || other?.role === 'absent';
  if (use === 'measure' || !isKept) return null;
  const what = other.role === 'absent' ? 'does not have' : 'has an internal connection on';
  const message = `${part.id} is an ${part.type}, which ${what} pin ${end}: nothing is soldered there`;
  return { code: 'kit/pin-mismatch', path, message, hint: 'Use a tag of a strip instead.' };
}
