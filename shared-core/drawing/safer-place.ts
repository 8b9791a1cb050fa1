import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Place } from '../kit/kit.ts';

/**
 * A place on the same net as a valve's pin that a probe holds on to more safely: a tag, a test point, a terminal.
 *
 * Tags come first, the one that the kit's net is named after before the others, and tags at the end of a strip
 * before those between two others: fewer neighbours to slip to. Common practice, no source.
 *
 * @returns Null for places that are no pin, and for nets that are nothing but pins and parts hung on them.
 */
export function saferPlace({ parts, netOf, placesOf, nets }: ChosenKit, at: Place): Place | null {
  const place = nets[at] ?? at;
  const partOf = (each: Place) => parts.find(({ id }) => id === each.slice(0, each.indexOf('.')));
  const net = netOf[place];
  if (net === undefined || partOf(place)?.kind !== 'valve') return null;
  const labelled = new Set(Object.values(nets));
  const ranked = (placesOf[net] ?? []).flatMap((each) => {
    const part = partOf(each);
    if (part?.kind === 'jack') return [{ each, rank: 3 }];
    if (part?.kind !== 'tag-strip') return [];
    const tag = Number(each.split('.')[1]);
    const isAtEnd = tag === 1 || tag === part.tags;
    return [{ each, rank: labelled.has(each) ? 0 : isAtEnd ? 1 : 2 }];
  });
  return ranked.toSorted((one, other) => one.rank - other.rank)[0]?.each ?? null;
}
