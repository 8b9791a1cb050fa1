import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Lead } from '../kit/kit.ts';
import { partIdOf } from '../kit/places.ts';
import type { Fault } from './fault.ts';
import { rewire } from './fault.ts';
import { leadWords } from './joint-faults.ts';

/**
 * Pairs of leads that were soldered to each other's far ends.
 *
 * Two leads are easily exchanged when they come from the same part and are of one colour or fly out of one
 * transformer (winding ends, anode and tap), or when they run side by side between the same two parts. The
 * secondary of an output transformer is among them: its sense decides the sign of an overall feedback.
 */
export function leadFaults(chosen: ChosenKit): readonly Fault[] {
  const { leads } = chosen;
  return leads.flatMap((one, index) =>
    leads.slice(index + 1).flatMap((other): readonly Fault[] => {
      const ways = areEasilyExchanged(one, other);
      return ways === null ? [] : [exchange(one, other, ways)];
    }),
  );
}

type Side = 'from' | 'to';

/** The two ends that would be exchanged; null where nobody takes one for the other. */
function areEasilyExchanged(one: Lead, other: Lead): readonly [Side, Side] | null {
  if (one.style === 'bare' || other.style === 'bare') return null;
  for (const near of ['from', 'to'] as const) {
    for (const otherNear of ['from', 'to'] as const) {
      const [far, otherFar] = [opposite(near), opposite(otherNear)];
      // Where a lead leaves its transformer nothing can be exchanged.
      if (isInside(one[far]) || isInside(other[otherFar])) continue;
      const start = partIdOf(one[near]);
      if (start === null || start !== partIdOf(other[otherNear])) continue;
      const isFlying =
        one.style === 'flying' && other.style === 'flying' && windingOf(one) === windingOf(other);
      const isSideBySide = partIdOf(one[far]) !== null && partIdOf(one[far]) === partIdOf(other[otherFar]);
      if (isFlying || isSideBySide || one.colour === other.colour) return [far, otherFar];
    }
  }
  return null;
}

function isInside(place: string): boolean {
  return place.split('.').length === 3;
}

function opposite(side: Side): Side {
  return side === 'from' ? 'to' : 'from';
}

/** `T1.ht` for a lead that flies out of it; its own id where it does not. */
function windingOf({ id, from, to }: Lead): string {
  const end = [from, to].find(isInside);
  return end?.split('.').slice(0, 2).join('.') ?? id;
}

function exchange(one: Lead, other: Lead, [far, otherFar]: readonly [Side, Side]): Fault {
  return {
    part: one.id,
    kind: `exchanged with ${other.id}`,
    sort: 'leads exchanged',
    words: `${leadWords(one)} and ${leadWords(other)} are exchanged at ${one[far]} and ${other[otherFar]}`,
    places: [one[far], other[otherFar]],
    build: (built) => ({
      ...built,
      chosen: rewire(built.chosen, {
        leads: built.chosen.leads.map((lead) => {
          if (lead.id === one.id) return { ...lead, [far]: other[otherFar] };
          return lead.id === other.id ? { ...lead, [otherFar]: one[far] } : lead;
        }),
      }),
    }),
  };
}
