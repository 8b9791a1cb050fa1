import { cathodePins } from '../valves/cathode-pins.ts';
import { findValveType } from '../valves/index.ts';
import type { ChosenKit } from './chosen-kit.ts';
import type { Condition, OutputTransformerPart, Part, ValvePart } from './kit.ts';
import { primaryEndsOf, windingEndsOf } from './transformer-ends.ts';

/** A way for direct current between two nets, through one part. */
export interface ConductionEdge {
  readonly one: string;
  readonly other: string;
  readonly part: Part;
  /**
   * `solid`: a resistor, a potentiometer's track, a choke or a winding. `contact`: a wiper.
   * `breakable`: a fuse, switch, diode, valve or connector, which may be open while everything looks well.
   */
  readonly kind: 'solid' | 'contact' | 'breakable';
  /** A joint inside a valve between two pins of one electrode: there as long as the valve is in its socket. */
  readonly joint?: true;
}

/** Every way for direct current in the kit. */
export function conductionEdges(chosen: ChosenKit): readonly ConductionEdge[] {
  const netOf = (place: string) =>
    Object.hasOwn(chosen.netOf, place) ? (chosen.netOf[place] ?? place) : place;
  return chosen.parts.flatMap((part) =>
    pathsThrough(part, chosen).map(([one, other, kind, joint]): ConductionEdge => {
      const edge: ConductionEdge = { one: netOf(one), other: netOf(other), part, kind };
      return joint ? { ...edge, joint } : edge;
    }),
  );
}

type PartPath = readonly [string, string, ConductionEdge['kind'], true?];

function pathsThrough(part: Part, chosen: ChosenKit): readonly PartPath[] {
  const at = (end: string) => `${part.id}.${end}`;
  switch (part.kind) {
    case 'resistor':
    case 'choke':
      return [[...part.between, 'solid']];
    case 'potentiometer':
      return [
        [at('ccw'), at('cw'), 'solid'],
        [at('wiper'), at('cw'), 'contact'],
        [at('wiper'), at('ccw'), 'contact'],
      ];
    case 'mains-transformer':
      return [primaryEndsOf(part).map(({ end }) => end), ...part.windings.map(windingEndsOf)].flatMap(
        (ends) => ends.slice(1).map((end, index): PartPath => [at(ends[index]!), at(end), 'solid']),
      );
    case 'output-transformer':
      return [
        ...primaryPaths(part).map(([one, other]): PartPath => [at(one), at(other), 'solid']),
        [at('secondary.a'), at('secondary.b'), 'solid'],
      ];
    case 'diode':
    case 'zener':
    case 'led':
      return [[...part.between, 'breakable']];
    case 'transistor':
      return [[at(part.gate ? 'd' : 'c'), at(part.gate ? 's' : 'e'), 'breakable']];
    case 'regulator':
      return [[at('in'), at('out'), 'breakable']];
    case 'fuse':
      return [[at('a'), at('b'), 'breakable']];
    case 'switch':
      return Array.from({ length: part.poles }, (_, n): PartPath => {
        return [at(`a${n + 1}`), at(`b${n + 1}`), 'breakable'];
      });
    case 'valve':
      return valvePaths(part, chosen);
    default:
      return [];
  }
}

/** The sections of an output transformer's primary, tap by tap. */
function primaryPaths(part: OutputTransformerPart): readonly (readonly [string, string])[] {
  if (!part.pushPull) {
    if (part.screenTaps === undefined) return [['primary.a', 'primary.b']];
    return [
      ['primary.a', 'primary.tap'],
      ['primary.tap', 'primary.b'],
    ];
  }
  const halves = (['a', 'b'] as const).map((half): readonly (readonly [string, string])[] => {
    if (part.screenTaps === undefined) return [['primary.ct', `primary.${half}`]];
    return [
      ['primary.ct', `primary.tap-${half}`],
      [`primary.tap-${half}`, `primary.${half}`],
    ];
  });
  return halves.flat();
}

function valvePaths(part: ValvePart, chosen: ChosenKit): readonly PartPath[] {
  const type = findValveType(part.type, chosen.valves);
  if (!type) return [];
  const at = (pin: number): string => `${part.id}.${pin}`;
  const through = type.sections.flatMap((section): PartPath[] => {
    const { anode } = section.pins;
    if (anode === undefined) return [];
    return cathodePins(type, section).map((pin): PartPath => [at(anode), at(pin), 'breakable']);
  });
  const joints = (type.joinedPins ?? []).flatMap(([first, ...rest]): PartPath[] =>
    first === undefined ? [] : rest.map((pin): PartPath => [at(first), at(pin), 'breakable', true]),
  );
  return [...through, ...joints];
}

/**
 * The nets that direct current reaches from some nets.
 *
 * @param blocked Nets that are reached but not passed, such as the chassis.
 */
export function reachableNets(
  edges: readonly ConductionEdge[],
  from: readonly string[],
  blocked: ReadonlySet<string> = new Set(),
): ReadonlySet<string> {
  const neighbours = new Map<string, string[]>();
  for (const { one, other } of edges) {
    neighbours.set(one, [...(neighbours.get(one) ?? []), other]);
    neighbours.set(other, [...(neighbours.get(other) ?? []), one]);
  }
  const reached = new Set(from);
  const waiting = [...from];
  for (let net = waiting.pop(); net !== undefined; net = waiting.pop()) {
    if (blocked.has(net) && !from.includes(net)) continue;
    for (const next of neighbours.get(net) ?? []) {
      if (reached.has(next)) continue;
      reached.add(next);
      waiting.push(next);
    }
  }
  return reached;
}

/** Whether a condition lets current through a breakable part: valve fitted, switch on. */
export function conductsIn(edge: ConductionEdge, condition: Condition, chosen: ChosenKit): boolean {
  const { part } = edge;
  if (part.kind === 'switch') return condition.switches[part.id] === 'on';
  if (part.kind !== 'valve') return true;
  const isFitted = condition.fitted === 'all' || condition.fitted.includes(part.id);
  if (edge.joint) return isFitted;
  return isFitted && (findValveType(part.type, chosen.valves)?.rectifier ?? null) !== null;
}

/** The nets at zero volts: signal ground and chassis. */
export function groundNets(chosen: ChosenKit): ReadonlySet<string> {
  return new Set([chosen.netOf['gnd'] ?? 'gnd', chosen.netOf['chassis'] ?? 'chassis']);
}

/** Parts that hold the mains back or are no joint to it. */
const junctions: ReadonlySet<Part['kind']> = new Set([
  ...(['valve', 'diode', 'zener', 'led', 'transistor', 'regulator'] as const),
]);

/** The nets that are joined to the mains plug's line or neutral, whatever the switches do. */
export function mainsNets(chosen: ChosenKit): ReadonlySet<string> {
  const inlet = ['inlet.line', 'inlet.neutral'].flatMap((place) => chosen.netOf[place] ?? []);
  const edges = conductionEdges(chosen).filter(({ part }) => !junctions.has(part.kind));
  return inlet.length === 0 ? new Set() : reachableNets(edges, inlet, groundNets(chosen));
}
