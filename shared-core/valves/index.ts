import { findValveBase } from './bases.ts';
import { type2a3 } from './types/2a3.ts';
import { type300b } from './types/300b.ts';
import { type5u4gb } from './types/5u4gb.ts';
import { type5y3gt } from './types/5y3gt.ts';
import { type6as7g } from './types/6as7g.ts';
import { type6cg7 } from './types/6cg7.ts';
import { type6l6gc } from './types/6l6gc.ts';
import { type6n1p } from './types/6n1p.ts';
import { type6n23p } from './types/6n23p.ts';
import { type6n6p } from './types/6n6p.ts';
import { type6sl7gt, type7f7 } from './types/6sl7gt.ts';
import { type6sn7gt, type6sn7gtb } from './types/6sn7gt.ts';
import { type6v6gt, type6v6gta } from './types/6v6gt.ts';
import { type6x4 } from './types/6x4.ts';
import { e182cc } from './types/e182cc.ts';
import { ecc81 } from './types/ecc81.ts';
import { ecc82 } from './types/ecc82.ts';
import { ecc83 } from './types/ecc83.ts';
import { e88cc, ecc88 } from './types/ecc88.ts';
import { ef86 } from './types/ef86.ts';
import { el34 } from './types/el34.ts';
import { el84 } from './types/el84.ts';
import { ez80 } from './types/ez80.ts';
import { ez81 } from './types/ez81.ts';
import { oa2, ob2 } from './types/gas-stabilisers.ts';
import { gz34 } from './types/gz34.ts';
import { kt88 } from './types/kt88.ts';
import type { ValveType } from './valve-type.ts';

/** The catalogue. Adding a type is one file in `types/` and one line here. */
export const valveTypes: readonly ValveType[] = [
  e182cc,
  ecc81,
  ecc82,
  ecc83,
  ecc88,
  e88cc,
  ef86,
  el34,
  el84,
  ez80,
  ez81,
  gz34,
  kt88,
  oa2,
  ob2,
  type2a3,
  type300b,
  type5u4gb,
  type5y3gt,
  type6as7g,
  type6cg7,
  type6l6gc,
  type6n1p,
  type6n23p,
  type6n6p,
  type6sl7gt,
  type6sn7gt,
  type6sn7gtb,
  type6v6gt,
  type6v6gta,
  type6x4,
  type7f7,
];

/**
 * Looks a type up by its name or a synonym, capitals or not: `12AX7` finds ECC83.
 *
 * @param own Types that the kit brings; they come first, so that a kit's own `EL34` is the kit's.
 */
export function findValveType(name: string, own: readonly ValveType[] = []): ValveType | undefined {
  const wanted = name.trim().toUpperCase();
  return own.find((type) => namesOf(type).some((known) => known === wanted)) ?? byName.get(wanted);
}

function namesOf({ name, synonyms }: ValveType): readonly string[] {
  return [name, ...synonyms].map((each) => each.toUpperCase());
}

const byName: ReadonlyMap<string, ValveType> = new Map(
  valveTypes.flatMap((type) => namesOf(type).map((name) => [name, type] as const)),
);

/** Every name under which a type can be written, the kit's own first. */
export function valveTypeNames(own: readonly ValveType[] = []): readonly string[] {
  return [...own, ...valveTypes].flatMap(({ name, synonyms }) => [name, ...synonyms]);
}

/** The types that go into a socket, by their own names, the kit's own first; all where the base is not known. */
export function typesForBase(base: string, own: readonly ValveType[] = []): readonly string[] {
  const wanted = findValveBase(base)?.name;
  const names = [...own, ...valveTypes]
    .filter((type) => wanted === undefined || type.base === wanted)
    .map(({ name }) => name);
  return [...new Set(names)];
}
