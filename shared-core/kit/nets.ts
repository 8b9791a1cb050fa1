import type { ChosenKit } from './chosen-kit.ts';
import type { Kit, Place } from './kit.ts';
import { comparePlaces, ownEndNames, placesOfPart } from './places.ts';

/** Reserved names of nets and places, strongest name first. */
const reserved = ['gnd', 'chassis'];

/** The nets of a kit whose options are chosen, and labels that meet on one net. */
export interface Nets extends Pick<ChosenKit, 'netOf' | 'placesOf'> {
  /** Names that belong to one net, where there is more than one: `[used, other]`. */
  readonly doubleNames: readonly (readonly [string, string])[];
}

/**
 * Computes the nets from what is soldered to what.
 *
 * Joined are: the two ends of each lead, everything at one place, a strip's earthed tags and the chassis,
 * `inlet.line` and the inlet's own terminal, and a net's label and its place.
 */
export function computeNets(kit: Pick<Kit, 'parts' | 'leads' | 'nets'>): Nets {
  const joints = new Joints();
  const places = new Set<Place>(['chassis']);
  for (const part of kit.parts) {
    for (const place of placesOfPart(part)) places.add(place);
    if (part.kind === 'tag-strip')
      for (const tag of part.earthed) joints.join(`${part.id}.${tag}`, 'chassis');
    if (part.kind !== 'mains-inlet') continue;
    for (const end of ['line', 'neutral', 'earth']) joints.join(`inlet.${end}`, `${part.id}.${end}`);
  }
  for (const { from, to } of kit.leads) joints.join(from, to);
  for (const [name, place] of Object.entries(kit.nets)) joints.join(name, place);
  const soldered = kit.parts.flatMap((part) => ('between' in part ? part.between : []));
  const ends = [...soldered, ...kit.leads.flatMap(({ from, to }) => [from, to])];
  for (const end of ends) if (isPlace(end)) places.add(end);
  return nameNets(kit, joints, places, ends);
}

function nameNets(
  kit: Pick<Kit, 'parts' | 'nets'>,
  joints: Joints,
  places: ReadonlySet<Place>,
  ends: readonly Place[],
): Nets {
  const bareNames = ends.filter((end) => !isPlace(end));
  const labels = [...new Set([...reserved, ...Object.keys(kit.nets), ...bareNames])];
  const nameOfRoot = new Map<string, string>();
  const doubleNames: [string, string][] = [];
  for (const label of labels) {
    if (label === 'gnd' && !Object.hasOwn(kit.nets, 'gnd') && !bareNames.includes('gnd')) continue;
    const root = joints.rootOf(label);
    const used = nameOfRoot.get(root);
    if (used === undefined) nameOfRoot.set(root, label);
    else if (label !== 'chassis') doubleNames.push([used, label]);
  }
  const netOf: Record<Place, string> = {};
  const placesOf: Record<string, Place[]> = {};
  for (const place of [...places].sort(comparePlaces)) {
    const root = joints.rootOf(place);
    const name = nameOfRoot.get(root) ?? place;
    nameOfRoot.set(root, name);
    netOf[place] = name;
    (placesOf[name] ??= []).push(place);
  }
  for (const label of labels) {
    const name = nameOfRoot.get(joints.rootOf(label));
    if (name !== undefined) netOf[label] = name;
  }
  for (const part of kit.parts) {
    for (const [name, place] of ownEndNames(part)) netOf[name] = netOf[place] ?? place;
  }
  return { netOf, placesOf, doubleNames };
}

/** Whether an end is a place of its own and not the bare name of a net. */
export function isPlace(end: Place): boolean {
  return end === 'chassis' || end.includes('.');
}

/** Which places are joined to which (disjoint sets with path halving). */
class Joints {
  readonly #parent = new Map<string, string>();

  rootOf(place: string): string {
    let at = place;
    for (;;) {
      const parent = this.#parent.get(at) ?? at;
      if (parent === at) return at;
      const grandparent = this.#parent.get(parent) ?? parent;
      this.#parent.set(at, grandparent);
      at = grandparent;
    }
  }

  join(one: string, two: string): void {
    const [first, second] = [this.rootOf(one), this.rootOf(two)];
    if (first !== second) this.#parent.set(first, second);
  }
}
