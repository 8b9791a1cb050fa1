import { type5y3gt } from './types/5y3gt.ts';
import { type6v6gt } from './types/6v6gt.ts';
import { ecc81 } from './types/ecc81.ts';
import { ecc82 } from './types/ecc82.ts';
import { ecc83 } from './types/ecc83.ts';
import { el34 } from './types/el34.ts';
import { el84 } from './types/el84.ts';
import { ez80 } from './types/ez80.ts';
import { ez81 } from './types/ez81.ts';
import { gz34 } from './types/gz34.ts';
import type { ValveType } from './valve-type.ts';

/** The catalogue. Adding a type is one file in `types/` and one line here. */
export const valveTypes: readonly ValveType[] = [
  ecc81,
  ecc82,
  ecc83,
  el34,
  el84,
  ez80,
  ez81,
  gz34,
  type5y3gt,
  type6v6gt,
];

/** Looks a type up by its name or a synonym, capitals or not: `12AX7` finds ECC83. */
export function findValveType(name: string): ValveType | undefined {
  const wanted = name.trim().toUpperCase();
  return valveTypes.find((type) => [type.name, ...type.synonyms].some((known) => known === wanted));
}
