import type { RectifierLaw } from './rectifier-law.ts';
import type { SupplyWiring } from './supply-wiring.ts';
import type { OpenPiece } from './transformer.ts';

/** Capacitors below this, in farads (F), quieten switching noise and hold no charge to speak of. */
export const leastReservoirFarads = 0.47e-6;
/** Resistors on alternating nets from this up, in ohms (Ω), load nothing: equalising and meter resistances. */
export const harmlessOhms = 220e3;

/** One way of the current from the reservoir's minus through the winding to its plus. */
export interface SupplyPath {
  readonly rectifiers: readonly ParallelRectifiers[];
  readonly winding: string;
  readonly pieces: readonly OpenPiece[];
  /** +1 where the pieces drive it on the positive half, −1 on the negative, 0 where they oppose each other. */
  readonly sign: number;
  readonly resistors: readonly { readonly id: string; readonly ohms: number }[];
  readonly insideNets: readonly string[];
}

/** Rectifiers with both ends on the same nets. */
export interface ParallelRectifiers {
  readonly ids: readonly string[];
  readonly anode: string;
  readonly cathode: string;
  /** Null where unlike ones stand in parallel. */
  readonly law: RectifierLaw | null;
}

/** The wiring prepared for the search. */
export interface PathMap {
  readonly wiring: SupplyWiring;
  readonly rectifiers: readonly ParallelRectifiers[];
  readonly series: SupplyWiring['resistors'];
  /** Nets that a path may end on but not run through. */
  readonly blocked: ReadonlySet<string>;
}

/** Everything that sits on a net, as words: `winding`, `anode`, `cathode`, `resistor`, `capacitor`, `other`. */
function touchesOf(wiring: SupplyWiring): Map<string, string[]> {
  const touches = new Map<string, string[]>();
  const add = (net: string, what: string): void => {
    touches.set(net, [...(touches.get(net) ?? []), what]);
  };
  for (const { pieces } of wiring.windings) {
    for (const { from, to } of pieces) [from, to].forEach((net) => add(net, 'winding'));
  }
  for (const { anode, cathode } of wiring.rectifiers) {
    add(anode, 'anode');
    add(cathode, 'cathode');
  }
  for (const { nets, farads } of wiring.capacitors) {
    if (farads >= leastReservoirFarads) nets.forEach((net) => add(net, 'capacitor'));
  }
  for (const { nets, ohms } of wiring.resistors) {
    if (ohms < harmlessOhms) nets.forEach((net) => add(net, 'resistor'));
  }
  for (const { nets } of wiring.chokes ?? []) nets.forEach((net) => add(net, 'other'));
  for (const net of wiring.otherNets) add(net, 'other');
  return touches;
}

/**
 * Whether a resistor at this net has nothing beside it but winding ends, or anodes, or cathodes, or one
 * resistor; or nothing but capacitors, through which no current flows on the mean.
 */
function isSeriesEnd(touches: readonly string[]): boolean {
  const index = touches.indexOf('resistor');
  const rest = touches.filter((_, position) => position !== index);
  if (rest.every((what) => what === 'capacitor')) return true;
  if (rest.length === 1 && rest[0] === 'resistor') return true;
  return ['winding', 'anode', 'cathode'].some((kind) => rest.every((what) => what === kind));
}

/** Prepares the search. */
export function mapPaths(wiring: SupplyWiring): PathMap {
  const touches = touchesOf(wiring);
  const series = wiring.resistors.filter(
    ({ nets, ohms }) => ohms < harmlessOhms && nets.some((net) => isSeriesEnd(touches.get(net) ?? [])),
  );
  const seriesIds = new Set(series.map(({ id }) => id));
  const blocked = new Set(wiring.otherNets);
  for (const { nets } of wiring.chokes ?? []) nets.forEach((net) => blocked.add(net));
  for (const { nets, farads } of wiring.capacitors) {
    if (farads >= leastReservoirFarads) nets.forEach((net) => blocked.add(net));
  }
  for (const { id, nets, ohms } of wiring.resistors) {
    if (ohms < harmlessOhms && !seriesIds.has(id)) nets.forEach((net) => blocked.add(net));
  }
  return { wiring, series, blocked, rectifiers: groupRectifiers(wiring) };
}

function groupRectifiers({ rectifiers }: SupplyWiring): ParallelRectifiers[] {
  const groups = new Map<string, ParallelRectifiers>();
  for (const { id, anode, cathode, law } of rectifiers) {
    if (anode === cathode) continue;
    const key = `${anode} ${cathode}`;
    const group = groups.get(key);
    groups.set(key, {
      ids: [...(group?.ids ?? []), id],
      anode,
      cathode,
      law: group ? group.law && joinLaws(group.law, law) : law,
    });
  }
  return [...groups.values()];
}

/** Two rectifiers in parallel as one: perveances add; semiconductors must be alike. */
function joinLaws(first: RectifierLaw, second: RectifierLaw): RectifierLaw | null {
  if (first.kind === 'valve' && second.kind === 'valve') {
    return { kind: 'valve', perveance: first.perveance + second.perveance };
  }
  if (first.kind === 'semiconductor' && second.kind === 'semiconductor') {
    // The first may already stand for several: its product IS·RS tells the type.
    const isAlike =
      first.emission === second.emission &&
      Math.abs(first.saturationAmps * first.bulkOhms - second.saturationAmps * second.bulkOhms) <=
        1e-9 * second.saturationAmps * second.bulkOhms;
    const saturationAmps = first.saturationAmps + second.saturationAmps;
    return isAlike
      ? { ...first, saturationAmps, bulkOhms: (second.bulkOhms * second.saturationAmps) / saturationAmps }
      : null;
  }
  return first.kind === second.kind ? first : null;
}

interface Trail {
  readonly nets: readonly string[];
  readonly rectifiers: readonly ParallelRectifiers[];
  readonly pieces: readonly { readonly winding: string; readonly piece: OpenPiece; readonly sign: number }[];
  readonly resistors: readonly { readonly id: string; readonly ohms: number }[];
}

/**
 * Every way from one net to another through rectifiers (forwards), winding pieces and series resistors.
 *
 * @param isStrict Keep off blocked nets on the way.
 */
export function pathsBetween(map: PathMap, from: string, to: string, isStrict = true): SupplyPath[] {
  const found: SupplyPath[] = [];
  const walk = (net: string, trail: Trail): void => {
    if (net === to && trail.nets.length > 1) {
      if (trail.rectifiers.length > 0) found.push(toPath(trail));
      return;
    }
    if (trail.nets.length > 1 && isStrict && map.blocked.has(net)) return;
    for (const { next, grown } of stepsFrom(map, net, trail)) {
      if (next === to || !trail.nets.includes(next)) walk(next, { ...grown, nets: [...trail.nets, next] });
    }
  };
  walk(from, { nets: [from], rectifiers: [], pieces: [], resistors: [] });
  return found;
}

function stepsFrom(map: PathMap, net: string, trail: Trail): { next: string; grown: Trail }[] {
  const steps: { next: string; grown: Trail }[] = [];
  for (const group of map.rectifiers) {
    if (group.anode !== net) continue;
    steps.push({ next: group.cathode, grown: { ...trail, rectifiers: [...trail.rectifiers, group] } });
  }
  for (const { id, pieces } of map.wiring.windings) {
    for (const { from, to, piece } of pieces) {
      if (trail.pieces.some((used) => used.piece === piece)) continue;
      const add = (next: string, sign: number): void => {
        steps.push({ next, grown: { ...trail, pieces: [...trail.pieces, { winding: id, piece, sign }] } });
      };
      if (to === net) add(from, 1);
      if (from === net) add(to, -1);
    }
  }
  for (const resistor of map.series) {
    if (trail.resistors.some(({ id }) => id === resistor.id)) continue;
    const [one, other] = resistor.nets;
    const next = one === net ? other : other === net ? one : null;
    if (next !== null) steps.push({ next, grown: { ...trail, resistors: [...trail.resistors, resistor] } });
  }
  return steps;
}

function toPath(trail: Trail): SupplyPath {
  const first = trail.pieces[0];
  const isAlike = trail.pieces.every(
    ({ winding, sign }) => winding === first!.winding && sign === first!.sign,
  );
  return {
    rectifiers: trail.rectifiers,
    winding: first?.winding ?? '',
    pieces: trail.pieces.map(({ piece }) => piece),
    sign: first && isAlike ? first.sign : 0,
    resistors: trail.resistors.map(({ id, ohms }) => ({ id, ohms })),
    insideNets: trail.nets.slice(1, -1),
  };
}
