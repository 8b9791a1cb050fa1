import { factorise, solveFactorised } from '../numerics/dense.ts';
import { findValveType } from '../valves/index.ts';
import type { ChosenKit } from './chosen-kit.ts';
import { conductionEdges, groundNets, reachableNets } from './conduction.ts';
import type { Part, Place, PotentiometerPart } from './kit.ts';

/** What may come apart in an adjuster: the wiper, or the track between the wiper and one end. */
export type AdjusterFault = 'wiper' | 'ccw' | 'cw';

/** A control that moves the bias of a grid. */
export interface BiasAdjuster {
  readonly part: string;
  /** The end at which the grid is most negative: 0 anticlockwise, 1 clockwise. */
  readonly mostNegative: 0 | 1;
}

/** A valve whose grid hangs on a negative supply. */
export interface FixedBiasSocket {
  readonly socket: string;
  /** Its own grid pins, `V3.5`. */
  readonly grids: readonly Place[];
  readonly adjusters: readonly BiasAdjuster[];
}

/** A grid below this part of the negative supply is biased from it. */
const LEAST_SHARE = 0.01;
/** A control that moves the grid by less than this part of the negative supply is no adjuster of it. */
const LEAST_MOVE = 0.001;
/** Ties what has come loose to the chassis, in siemens (S): a grid that nothing holds drifts to no bias. */
const LOOSE_SIEMENS = 1e-12;
const LEAST_OHMS = 1e-3;

/**
 * The valves with fixed bias, from what is soldered to what alone: nothing needs to be computed or predicted.
 *
 * Every negative supply is taken for −1 V and what resistors, windings and controls carry from it is solved.
 */
export function findFixedBiasSockets(chosen: ChosenKit): readonly FixedBiasSocket[] {
  const network = biasNetwork(chosen);
  if (network.sources.length === 0) return [];
  const atRest = biasShares(network, {}, null);
  return chosen.parts.flatMap((part): FixedBiasSocket[] => {
    if (part.kind !== 'valve') return [];
    const pins = (findValveType(part.type, chosen.valves)?.sections ?? []).flatMap(
      ({ pins: own }) => own['grid'] ?? [],
    );
    const grids = pins
      .map((pin) => `${part.id}.${pin}`)
      .filter((place) => (atRest[netOf(chosen, place)] ?? 0) < -LEAST_SHARE);
    if (grids.length === 0) return [];
    const adjusters = network.controls.flatMap((control): BiasAdjuster[] => {
      const at = (position: number) =>
        Math.max(
          ...grids.map(
            (grid) => biasShares(network, { [control.id]: position }, null)[netOf(chosen, grid)] ?? 0,
          ),
        );
      const [low, high] = [at(0), at(1)];
      if (Math.abs(low - high) < LEAST_MOVE) return [];
      return [{ part: control.id, mostNegative: low < high ? 0 : 1 }];
    });
    return [{ socket: part.id, grids, adjusters }];
  });
}

/** Net to its part of the negative supply, −1 at the supply and 0 at the chassis. */
type Shares = Readonly<Record<string, number>>;

/** What carries the bias: everything that direct current reaches from the negative supplies, short of ground. */
export interface BiasNetwork {
  readonly chosen: ChosenKit;
  readonly sources: readonly string[];
  readonly ground: ReadonlySet<string>;
  readonly nets: readonly string[];
  readonly parts: readonly Part[];
  readonly controls: readonly PotentiometerPart[];
}

/** Gathers what carries the bias. */
export function biasNetwork(chosen: ChosenKit): BiasNetwork {
  const ground = groundNets(chosen);
  const edges = conductionEdges(chosen).filter(({ kind }) => kind !== 'breakable');
  const sources = negativeSupplies(chosen, edges, ground);
  const reached = reachableNets(edges, sources, ground);
  const parts = chosen.parts.filter((part) =>
    edges.some((edge) => edge.part === part && reached.has(edge.one) && reached.has(edge.other)),
  );
  const nets = [...reached].filter((net) => !ground.has(net));
  const controls = parts.filter((part) => part.kind === 'potentiometer');
  return { chosen, sources, ground, nets, parts, controls };
}

/** Nets that a rectifier makes negative: its anode there, its cathode towards a winding, and no winding straight on it. */
function negativeSupplies(
  chosen: ChosenKit,
  edges: ReturnType<typeof conductionEdges>,
  ground: ReadonlySet<string>,
): readonly string[] {
  // A bias supply may take its current from a winding through a capacitor.
  const alternating = chosen.parts.flatMap((part) => {
    if (part.kind !== 'capacitor') return [];
    const [one, other] = part.between.map((end) => netOf(chosen, end)) as [string, string];
    return [{ one, other, part, kind: 'solid' as const }];
  });
  const windings = chosen.parts.flatMap((part) =>
    part.kind === 'mains-transformer'
      ? part.windings.flatMap(({ name }) =>
          ['a', 'b'].map((end) => netOf(chosen, `${part.id}.${name}.${end}`)),
        )
      : [],
  );
  const fed = reachableNets(
    edges,
    windings.filter((net) => !ground.has(net)),
    ground,
  );
  const pumped = new Set([...fed]);
  for (const { one, other } of alternating) {
    if (fed.has(one) && !ground.has(one)) pumped.add(other);
    if (fed.has(other) && !ground.has(other)) pumped.add(one);
  }
  const anodes = chosen.parts.flatMap((part) => {
    if (part.kind !== 'diode') return [];
    const [anode, cathode] = part.between.map((end) => netOf(chosen, end)) as [string, string];
    const isNegative = !ground.has(anode) && !fed.has(anode) && pumped.has(cathode) && !ground.has(cathode);
    return isNegative ? [anode] : [];
  });
  return [...new Set(anodes)];
}

/**
 * What resistors and controls make of the negative supplies, without a valve in any socket.
 *
 * @param positions Control to position, 0 to 1; those left out stand in the middle.
 * @param fault One control with something open in it.
 */
export function biasShares(
  { chosen, sources, ground, nets, parts }: BiasNetwork,
  positions: Readonly<Record<string, number>>,
  fault: { readonly part: string; readonly open: AdjusterFault } | null,
): Shares {
  const size = nets.length;
  const index = new Map(nets.map((net, n) => [net, n]));
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  const join = (one: Place, other: Place, ohms: number): void => {
    const [a, b] = [index.get(netOf(chosen, one)), index.get(netOf(chosen, other))];
    const siemens = 1 / Math.max(LEAST_OHMS, ohms);
    if (a === b) return;
    for (const [own, far] of [
      [a, b],
      [b, a],
    ] as const) {
      if (own === undefined) continue;
      matrix[own * size + own]! += siemens;
      if (far !== undefined) matrix[own * size + far]! -= siemens;
    }
  };
  for (const part of parts) {
    if (part.kind === 'resistor') join(...part.between, part.ohms);
    else if (part.kind === 'choke') join(...part.between, part.dcrOhms);
    else if (part.kind === 'potentiometer') {
      for (const [one, other, ohms] of trackOf(part, positions[part.id] ?? 0.5, fault))
        join(one, other, ohms);
    }
  }
  nets.forEach((net, n) => {
    matrix[n * size + n]! += LOOSE_SIEMENS;
    if (!sources.includes(net)) return;
    matrix.fill(0, n * size, (n + 1) * size);
    matrix[n * size + n] = 1;
    right[n] = -1;
  });
  const order = new Int32Array(size);
  const shares = new Float64Array(size);
  const failed = factorise(matrix, size, order, new Float64Array(size)) >= 0;
  if (!failed) solveFactorised(matrix, size, order, right, shares);
  // What cannot be solved holds nothing.
  return Object.fromEntries([
    ...nets.map((net, n) => [net, failed ? 0 : shares[n]!] as const),
    ...[...ground].map((net) => [net, 0] as const),
  ]);
}

/** The two pieces of a track, or the whole of it with its wiper open. */
function trackOf(
  { id, ohms }: PotentiometerPart,
  position: number,
  fault: { readonly part: string; readonly open: AdjusterFault } | null,
): readonly (readonly [Place, Place, number])[] {
  const open = fault?.part === id ? fault.open : null;
  const [ccw, wiper, cw] = [`${id}.ccw`, `${id}.wiper`, `${id}.cw`];
  if (open === 'wiper') return [[ccw, cw, ohms]];
  const lower = [ccw, wiper, ohms * position] as const;
  const upper = [wiper, cw, ohms * (1 - position)] as const;
  return [...(open === 'ccw' ? [] : [lower]), ...(open === 'cw' ? [] : [upper])];
}

function netOf(chosen: ChosenKit, place: Place): string {
  return Object.hasOwn(chosen.netOf, place) ? (chosen.netOf[place] ?? place) : place;
}
