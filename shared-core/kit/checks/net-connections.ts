import type { ChosenKit } from '../chosen-kit.ts';
import type { Finding } from '../draft.ts';
import type { Place } from '../kit.ts';
import { computeNets, isPlace } from '../nets.ts';
import { partIdOf } from '../places.ts';
import { pathOfItem } from '../source.ts';
import { otherPinOf } from '../valve-pins.ts';
import { netAt } from './check.ts';
import type { CheckContext, KitCheck } from './check.ts';

/** Nets that lead nowhere: something is soldered, but only one end of a part is reached. */
export const checkNetConnections: KitCheck = {
  needs: [],
  run: (context) => {
    const { chosen, draft } = context;
    const silent = new Set([...draft.brokenEnds].map((end) => netAt(chosen, end)));
    return joints(context).flatMap(({ net, path, isFirst }): Finding[] => {
      if (!isFirst || silent.has(net) || countEnds(context, net) > 1) return [];
      const places = chosen.placesOf[net]?.join(', ') ?? net;
      const message = `The net at ${places} has one connection only`;
      const hint = 'Solder what is missing there, or correct the place.';
      return [{ code: 'kit/net-one-connection', path, message, hint }];
    });
  },
};

/** Every solder joint, in file order, and whether it is the first on its net. */
function joints({ chosen, draft }: CheckContext): { net: string; path: string; isFirst: boolean }[] {
  const seen = new Set<string>();
  const ends = [
    ...chosen.parts.flatMap((part) => {
      const path = pathOfItem(draft.source, 'parts', part);
      return 'between' in part ? part.between.map((end, n) => [end, `${path}.between.${n}`] as const) : [];
    }),
    ...chosen.leads.flatMap((lead) => {
      const path = pathOfItem(draft.source, 'leads', lead);
      return [[lead.from, `${path}.from`] as const, [lead.to, `${path}.to`] as const];
    }),
  ];
  return ends.map(([end, path]) => {
    const net = netAt(chosen, end);
    const isFirst = !seen.has(net);
    seen.add(net);
    return { net, path, isFirst };
  });
}

/** Ends of parts on a net; tags and unused pins hold wire but are no end of anything. */
function countEnds({ chosen, draft }: CheckContext, net: string): number {
  const soldered = chosen.parts.flatMap((part) => ('between' in part ? part.between : []));
  const count = soldered.filter((end) => netAt(chosen, end) === net).length;
  const places = chosen.placesOf[net] ?? [];
  // What a part that could not be read, or has no variant here, has there is not known.
  const isKnown = (id: string) =>
    !draft.declared.parts.has(id) || chosen.parts.some((part) => part.id === id);
  if (places.some((place) => !isKnown(partIdOf(place) ?? ''))) return Infinity;
  const own = places.filter((place) => isEnd(chosen, place));
  // An inlet's terminal has two addresses.
  return count + own.filter((place) => !place.startsWith('inlet.')).length;
}

function isEnd(chosen: ChosenKit, place: Place): boolean {
  if (place === 'chassis') return true;
  const part = chosen.parts.find(({ id }) => id === partIdOf(place));
  if (!part || part.kind === 'tag-strip') return false;
  if (part.kind !== 'valve') return true;
  const other = otherPinOf(part, place.slice(part.id.length + 1), chosen.valves);
  return (
    other === undefined || (other.role !== 'internal' && other.role !== 'free' && other.role !== 'absent')
  );
}

/** Two names on one net, and ends that are bare net names. */
export const checkNetNames: KitCheck = {
  needs: ['parts', 'leads', 'nets'],
  run: ({ chosen, draft }) => {
    const doubles = computeNets(chosen).doubleNames.map(([used, other]): Finding => {
      const message = `"${used}" and "${other}" are the same net: something joins them`;
      const hint = 'Remove one label, or correct the lead that joins the two.';
      return { code: 'kit/net-two-names', path: `nets.${other}`, message, hint };
    });
    const bare = chosen.parts.flatMap((part): Finding[] => {
      if (!('between' in part)) return [];
      const path = pathOfItem(draft.source, 'parts', part);
      return part.between.flatMap((end, n): Finding[] => {
        if (isPlace(end)) return [];
        const message = `${part.id} ends on the net "${end}" and not at a place: no joint can be checked there`;
        const hint = 'Name the pin or tag, unless it is soldered to a printed board.';
        return [
          { code: 'kit/bare-net-end', severity: 'warning', path: `${path}.between.${n}`, message, hint },
        ];
      });
    });
    return [...doubles, ...bare];
  },
};
