import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Condition, ValvePart } from '../kit/kit.ts';
import type { Fitted } from '../prediction/bench.ts';
import { sectionName } from '../prediction/valve-elements.ts';
import { findValveBase } from '../valves/bases.ts';
import { findValveType } from '../valves/index.ts';
import type { ValveSection, ValveType } from '../valves/valve-type.ts';
import type { BuiltKit, Fault } from './fault.ts';
import { rewire } from './fault.ts';

/** What is left of the current of a section without emission. */
const noEmission = 1e-6;

/** A worn valve's share of its current: common practice, no source. */
const weakShare = 1 / 3;

/** Grid current of a gassy valve against a sound one's: common practice, no source. */
const gassyFactor = 20;

/** Everything that can be wrong with the valves of a kit and with what is fitted where. */
export function valveFaults(chosen: ChosenKit, fitted: Fitted): readonly Fault[] {
  const sockets = chosen.parts.filter((part): part is ValvePart => part.kind === 'valve');
  const typeIn = (part: ValvePart): ValveType | undefined =>
    findValveType(fitted.valves[part.id] ?? part.type, chosen.valves);
  return [
    ...sockets.flatMap((part) => {
      const type = typeIn(part);
      return type ? ownFaults(part, type) : [];
    }),
    ...sockets.flatMap((part) => wrongTypes(part, sockets, typeIn)),
    ...sockets.flatMap((part, index) =>
      sockets.slice(index + 1).flatMap((other) => exchangedValves(part, other, typeIn)),
    ),
  ];
}

function ownFaults(part: ValvePart, type: ValveType): readonly Fault[] {
  const places = [part.id];
  const { id } = part;
  const withoutIt = (built: BuiltKit): BuiltKit => leaveOut(built, id);
  const isHeated = type.heater.elements.length > 0;
  return [
    {
      ...{ part: id, kind: 'missing', sort: 'valve missing' as const, places },
      words: `${id} is not in its socket, or not all the way in`,
      build: withoutIt,
    },
    ...(isHeated
      ? [
          {
            ...{ part: id, kind: 'heater out', sort: 'valve worn' as const, places },
            words: `the heater of ${id} does not glow`,
            build: withoutIt,
          },
        ]
      : []),
    ...type.sections.flatMap((section) => sectionFaults(part, type, section)),
    ...sectionsExchanged(part, type),
  ];
}

/** The amplifier with a socket empty in every condition. */
function leaveOut(built: BuiltKit, id: string): BuiltKit {
  const valves = built.chosen.parts.flatMap((part) => (part.kind === 'valve' ? [part.id] : []));
  const conditions = built.chosen.conditions.map((condition): Condition => {
    const fitted = condition.fitted === 'all' ? valves : condition.fitted;
    return { ...condition, fitted: fitted.filter((each) => each !== id) };
  });
  return { ...built, chosen: { ...built.chosen, conditions } };
}

function sectionFaults(part: ValvePart, type: ValveType, section: ValveSection): readonly Fault[] {
  if (section.device === 'gas-stabiliser') return [];
  const name = sectionName(part, section);
  const half = section.name === '' ? part.id : `section ${section.name} of ${part.id}`;
  const suffix = section.name === '' ? '' : `, section ${section.name}`;
  const weaker = (kind: string, words: string, share: number): Fault => ({
    ...{ part: part.id, kind: `${kind}${suffix}`, sort: 'valve worn', words, places: [part.id] },
    build: (built) => ({ ...built, flaw: { ...built.flaw, [`${name}.emission`]: share - 1 } }),
  });
  const worn = [
    weaker('dead', `${half} gives no current`, noEmission),
    weaker('weak', `${half} is worn: about a third of its current`, weakShare),
  ];
  if (section.pins['grid'] === undefined) return worn;
  return [
    ...worn,
    {
      ...{ part: part.id, kind: `gassy${suffix}`, sort: 'valve worn', places: [part.id] },
      words: `${half} is gassy: grid current lifts its grid`,
      build: (built) => gassy(built, part, type, section),
    },
  ];
}

/** The valve replaced by one of a type of its own, alike but for the gas in one section. */
function gassy(built: BuiltKit, { id }: ValvePart, type: ValveType, section: ValveSection): BuiltKit {
  const name = `${type.name} gassy in ${id}`;
  const ratio = section.parameters['gasRatio'] ?? 0;
  const sections = type.sections.map((each) =>
    each.name === section.name
      ? { ...each, parameters: { ...each.parameters, gasRatio: ratio * gassyFactor } }
      : each,
  );
  return {
    ...built,
    chosen: {
      ...built.chosen,
      valves: [...(built.chosen.valves ?? []), { ...type, name, synonyms: [], sections }],
    },
    fitted: fit(built.fitted, { [id]: name }),
  };
}

function fit(fitted: Fitted, valves: Readonly<Record<string, string>>): Fitted {
  return { ...fitted, valves: { ...fitted.valves, ...valves } };
}

/** Everything that belongs on one section's pins sits on the other's. */
function sectionsExchanged(part: ValvePart, { sections }: ValveType): readonly Fault[] {
  const [first, second] = sections;
  if (!first || !second || first.device !== second.device) return [];
  const turn = new Map<string, string>();
  for (const [electrode, pin] of Object.entries(first.pins)) {
    const other = second.pins[electrode];
    if (other === undefined || other === pin) continue;
    turn.set(`${part.id}.${pin}`, `${part.id}.${other}`);
    turn.set(`${part.id}.${other}`, `${part.id}.${pin}`);
  }
  const move = (place: string): string => turn.get(place) ?? place;
  return [
    {
      ...{ part: part.id, kind: 'sections exchanged', sort: 'wrong place', places: [...turn.keys()] },
      words: `the two sections of ${part.id} are wired in each other's place`,
      build: (built) => ({
        ...built,
        chosen: rewire(built.chosen, {
          parts: built.chosen.parts.map((each) =>
            'between' in each
              ? { ...each, between: [move(each.between[0]), move(each.between[1])] as const }
              : each,
          ),
          leads: built.chosen.leads.map((lead) => ({ ...lead, from: move(lead.from), to: move(lead.to) })),
        }),
      }),
    },
  ];
}

type TypeIn = (part: ValvePart) => ValveType | undefined;

function goesInto({ base }: ValveType, part: ValvePart): boolean {
  return findValveBase(part.socket.base)?.name === base;
}

/** Each other type of the kit that fits the socket's base. */
function wrongTypes(part: ValvePart, sockets: readonly ValvePart[], typeIn: TypeIn): readonly Fault[] {
  const own = typeIn(part);
  const others = new Map(
    sockets.flatMap((socket) => {
      const type = typeIn(socket);
      return type && type !== own && goesInto(type, part) ? [[type.name, type] as const] : [];
    }),
  );
  return [...others.keys()].map((name) => ({
    ...{ part: part.id, kind: `wrong type ${name}`, sort: 'wrong valve', places: [part.id] },
    words: `there is an ${name} in the socket of ${part.id}`,
    build: (built) => ({ ...built, fitted: fit(built.fitted, { [part.id]: name }) }),
  }));
}

function exchangedValves(one: ValvePart, other: ValvePart, typeIn: TypeIn): readonly Fault[] {
  const [first, second] = [typeIn(one), typeIn(other)];
  if (!first || !second || first === second) return [];
  if (!goesInto(first, other) || !goesInto(second, one)) return [];
  return [
    {
      ...{ part: one.id, kind: `exchanged with ${other.id}`, sort: 'wrong valve' },
      places: [one.id, other.id],
      words: `${one.id} and ${other.id} are in each other's socket`,
      build: (built) => ({
        ...built,
        fitted: fit(built.fitted, { [one.id]: second.name, [other.id]: first.name }),
      }),
    },
  ];
}
