import type { BuildState } from '../journal/build-state.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import { shortened } from './bounded.ts';

/** What may move a reading beside the kit: the name of the matter, and what it was in this build. */
export type Covariates = readonly (readonly [name: string, level: string])[];

/**
 * What of a build may move its readings beside the kit itself: meter, mains, the brand in each socket.
 *
 * A record does not hold the lot of a part; see `lotsNotRecorded`.
 */
export function covariatesOf({ bench, valves, differing }: BuildState): Covariates {
  const list: (readonly [string, string])[] = [];
  if (bench !== null) {
    const { input } = bench.meter;
    const ohms =
      input.kind === 'fixed'
        ? `${formatQuantity(input.ohms, 'Ω')} input`
        : `${formatQuantity(input.ohmsPerVolt, 'Ω')} per volt`;
    list.push(['meter', ohms], ['mains', bench.mains.source]);
  }
  for (const [socket, { brand }] of Object.entries(valves).slice(0, mostSockets)) {
    list.push([`${socket} brand`, brand.trim() === '' ? 'not given' : shortened(brand)]);
  }
  for (const [part, { how }] of Object.entries(differing).slice(0, mostSockets)) {
    if (how === 'fitted instead') list.push([`${part} fitted`, 'another part']);
  }
  return list;
}

/** Sockets and other parts looked at in one build. */
const mostSockets = 32;

/** Said in every output. */
export const lotsNotRecorded =
  'Part lots are not in the records: a bad lot cannot be separated from the kit.';
