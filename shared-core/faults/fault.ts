import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Lead, Part } from '../kit/kit.ts';
import { computeNets } from '../kit/nets.ts';
import type { Fitted } from '../prediction/bench.ts';
import type { World } from '../prediction/world.ts';

/** What a fault is called: the part where it is, and what is wrong there. */
export interface FaultName {
  readonly part: string;
  /** `open`, `×10`, `exchanged with R7`, `on V1.7 instead of V1.6` … */
  readonly kind: string;
}

/** How a fault came about, for how often builders make it and for what to look at. */
export type FaultSort =
  | 'broken part'
  | 'wrong value'
  | 'exchanged part'
  | 'reversed'
  | 'leaky'
  | 'joint missing'
  | 'wrong place'
  | 'bridge'
  | 'leads exchanged'
  | 'valve missing'
  | 'valve worn'
  | 'wrong valve'
  | 'setting';

/** An amplifier as somebody built it. */
export interface BuiltKit {
  readonly chosen: ChosenKit;
  readonly fitted: Fitted;
  /** Quantities that are off, relative to nominal, on top of what scatters. */
  readonly flaw: World;
}

/** One thing wrong with an amplifier. */
export interface Fault extends FaultName {
  readonly sort: FaultSort;
  /** What a builder would call it: "R10 is open". */
  readonly words: string;
  /** Places to look at, most likely first. */
  readonly places: readonly string[];
  /** The amplifier with this fault in it. */
  readonly build: (healthy: BuiltKit) => BuiltKit;
}

/** A kit with other parts or leads, its nets computed anew. */
export function rewire(
  chosen: ChosenKit,
  changes: { readonly parts?: readonly Part[]; readonly leads?: readonly Lead[] },
): ChosenKit {
  const changed = { ...chosen, ...changes };
  const { netOf, placesOf } = computeNets(changed);
  return { ...changed, netOf, placesOf };
}

/**
 * A kit in which one part stands for others, each on the same places as before.
 *
 * The nets are computed anew only where `isRewired` says that an end moved or a part was left out.
 */
export function replacePart(
  built: BuiltKit,
  id: string,
  replacements: readonly Part[],
  isRewired = true,
): BuiltKit {
  const parts = built.chosen.parts.flatMap((part) => (part.id === id ? replacements : [part]));
  const chosen = isRewired ? rewire(built.chosen, { parts }) : { ...built.chosen, parts };
  return { ...built, chosen };
}
