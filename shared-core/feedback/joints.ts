import type { ChosenKit } from '../kit/chosen-kit.ts';

/** A place to the steps that make a joint there. */
export type JointsOf = ReadonlyMap<string, readonly string[]>;

/**
 * Which steps solder at which place: the ends of their parts and leads, and where these go.
 *
 * Several steps may solder at one tag; a repair there then speaks for each of them, and what tells them apart is
 * the count of all their other places.
 */
export function jointsOf(chosen: ChosenKit): JointsOf {
  const joints = new Map<string, string[]>();
  for (const step of chosen.chapters.flatMap(({ steps }) => steps)) {
    const leads = chosen.leads.filter(({ id }) => step.leads.includes(id));
    const parts = chosen.parts.filter(({ id }) => step.parts.includes(id));
    const places = new Set([
      ...leads.flatMap(({ from, to }) => [from, to]),
      ...parts.flatMap((part) => ('between' in part ? [...part.between] : [])),
    ]);
    for (const place of places) joints.set(place, [...(joints.get(place) ?? []), step.id]);
  }
  return joints;
}
