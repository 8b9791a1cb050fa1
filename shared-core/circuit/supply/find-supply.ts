import { chargePumps } from './find-charge-pump.ts';
import { chokeInputs } from './find-choke-input.ts';
import { isSameLaw, type SupplyPhase } from './rectifier-law.ts';
import {
  leastReservoirFarads,
  mapPaths,
  type PathMap,
  pathsBetween,
  type SupplyPath,
} from './supply-paths.ts';
import type {
  FoundSupplies,
  FoundSupply,
  NotPredicted,
  NotPredictedReason,
  SupplyWiring,
} from './supply-wiring.ts';
import { joinPieces, peakOf } from './transformer.ts';

/**
 * Recognises the rectifier supplies in a wiring.
 *
 * A supply is a reservoir capacitor with one or two ways of the current from its minus through rectifiers
 * and winding pieces to its plus: one is half-wave (or what is left of a pair), two driven on opposite
 * halves are centre-tap (one rectifier each) or bridge (more). Only what these rules cover is answered;
 * every other rectifier that could conduct comes back with the reason why it is not predicted.
 */
export function findSupplies(wiring: SupplyWiring): FoundSupplies {
  const map = mapPaths(wiring);
  const notPredicted: NotPredicted[] = [];
  const supplies: FoundSupply[] = [];
  const shorted = findShorts(map, notPredicted);
  for (const [minus, plus] of outputPairs(wiring)) {
    const paths = pathsBetween(map, minus, plus).filter(({ pieces }) => pieces.length > 0);
    if (paths.length === 0 || paths.some(({ winding }) => shorted.has(winding))) continue;
    const supply = makeSupply(wiring, plus, minus, paths);
    if (typeof supply === 'string') notPredicted.push(refuse(supply, paths, [plus, minus]));
    else supplies.push(supply);
  }
  for (const { plus, minus, paths, input } of chokeInputs(map)) {
    if (paths.some(({ winding }) => shorted.has(winding))) continue;
    const supply = makeSupply(wiring, plus, minus, paths);
    if (typeof supply === 'string') notPredicted.push(refuse(supply, paths, [plus, minus]));
    else supplies.push({ ...supply, ...input });
  }
  for (const found of chargePumps(map)) {
    if (!shorted.has(found.winding)) supplies.push(found);
  }
  const kept = joinDoublers(supplies);
  const idle = sortRest(map, kept, notPredicted);
  return { supplies: kept.map((supply) => noteSharing(supply, kept)), notPredicted, idle };
}

/** Both directions of every pair of nets that a reservoir bridges, each once. */
function outputPairs({ capacitors }: SupplyWiring): (readonly [string, string])[] {
  const pairs = new Map<string, readonly [string, string]>();
  for (const { nets, farads } of capacitors) {
    const [one, other] = nets;
    if (farads < leastReservoirFarads || one === other) continue;
    pairs.set(`${one} ${other}`, [one, other]);
    pairs.set(`${other} ${one}`, [other, one]);
  }
  return [...pairs.values()];
}

function refuse(
  reason: NotPredictedReason,
  paths: readonly SupplyPath[],
  nets: readonly string[],
): NotPredicted {
  const rectifiers = paths.flatMap((path) => path.rectifiers.flatMap(({ ids }) => ids));
  return { reason, rectifiers: [...new Set(rectifiers)], nets };
}

/** Windings with rectifiers straight across them. */
function findShorts(map: PathMap, notPredicted: NotPredicted[]): Set<string> {
  const shorted = new Set<string>();
  for (const { id, pieces } of map.wiring.windings) {
    for (let from = 0; from < pieces.length; from++) {
      for (let to = from; to < pieces.length; to++) {
        const ends = [pieces[from]!.from, pieces[to]!.to] as const;
        const across = [
          ...pathsBetween(map, ends[0], ends[1], false),
          ...pathsBetween(map, ends[1], ends[0], false),
        ].filter(({ pieces: used }) => used.length === 0);
        if (across.length === 0) continue;
        shorted.add(id);
        notPredicted.push(refuse('winding-shorted', across, ends));
      }
    }
  }
  return shorted;
}

function makeSupply(
  wiring: SupplyWiring,
  plus: string,
  minus: string,
  paths: readonly SupplyPath[],
): FoundSupply | NotPredictedReason {
  if (paths.some(({ sign }) => sign === 0)) return 'opposed-windings';
  const [first, second] = paths;
  if (paths.length > 2 || first!.sign === second?.sign || (second && first!.winding !== second.winding)) {
    return 'parallel-phases';
  }
  const phases = paths.map((path) => makePhase(wiring, path));
  if (phases.some((phase) => phase === null)) return 'unlike-rectifiers';
  const pieces = paths.map((path) => joinPieces(path.pieces));
  const reservoirs = wiring.capacitors.filter(
    ({ nets, farads }) => farads >= leastReservoirFarads && nets.includes(plus) && nets.includes(minus),
  );
  const form = formOf(wiring, paths);
  return {
    plus,
    minus,
    form,
    isPhaseMissing: form !== 'half-wave' && !second,
    hertz: wiring.hertz,
    winding: first!.winding,
    phases: [phases[0]!, phases[1] ?? null],
    pieces: [pieces[0]!, pieces[1] ?? null],
    ownPieces: paths.map((path) => path.pieces),
    emfVoltsRms: [pieces[0]!.ratio * wiring.core.volts, (pieces[1]?.ratio ?? 0) * wiring.core.volts],
    ...{ input: 'capacitor' as const, choke: null, pump: null, doubler: null },
    reservoirs: reservoirs.map(({ id }) => id),
    reservoirFarads: reservoirs.reduce((sum, { farads }) => sum + farads, 0),
    replaced: distinct(
      paths.flatMap((path) => [
        ...path.rectifiers.flatMap(({ ids }) => ids),
        ...path.resistors.map(({ id }) => id),
      ]),
    ),
    insideNets: distinct(paths.flatMap((path) => path.insideNets)),
    sharesWindingWith: [],
  };
}

function distinct(names: readonly string[]): string[] {
  return [...new Set(names)];
}

function formOf({ windings }: SupplyWiring, paths: readonly SupplyPath[]): FoundSupply['form'] {
  const first = paths[0]!;
  if (first.rectifiers.length > 1 && paths.every(({ pieces }) => pieces.length === first.pieces.length)) {
    const isSamePieces = paths.every(({ pieces }) => pieces.every((piece) => first.pieces.includes(piece)));
    if (isSamePieces) return 'bridge';
  }
  const whole = windings.find(({ id }) => id === first.winding)?.pieces.length ?? 1;
  return paths.length > 1 || first.pieces.length < whole ? 'centre-tap' : 'half-wave';
}

/** One way as a phase; null where its rectifiers are unlike. */
function makePhase({ core, flatTop }: SupplyWiring, path: SupplyPath): SupplyPhase | null {
  const law = path.rectifiers[0]!.law;
  if (!law || !path.rectifiers.every((group) => group.law && isSameLaw(group.law, law))) return null;
  const { ratio, ohms } = joinPieces(path.pieces);
  const surge = path.resistors.reduce((sum, resistor) => sum + resistor.ohms, 0);
  return {
    emfVolts: peakOf(ratio * core.volts, flatTop),
    ohms: ohms + ratio * ratio * core.ohms + surge,
    law,
    junctions: path.rectifiers.length,
    isOpposite: path.sign < 0,
  };
}

/** Joins two single phases stacked on the same winding: a full-wave doubler. */
function joinDoublers(supplies: readonly FoundSupply[]): FoundSupply[] {
  const joined: FoundSupply[] = [];
  const used = new Set<FoundSupply>();
  const isHalf = ({ phases, form, input }: FoundSupply): boolean =>
    !phases[1] && form === 'half-wave' && input === 'capacitor';
  for (const upper of supplies.filter(isHalf)) {
    const lower = supplies.find(
      (other) =>
        isHalf(other) &&
        other.plus === upper.minus &&
        other.winding === upper.winding &&
        other.phases[0].isOpposite !== upper.phases[0].isOpposite &&
        !used.has(other) &&
        !isBiasPair(upper, other),
    );
    if (!lower || used.has(upper)) continue;
    used.add(upper).add(lower);
    joined.push({
      ...upper,
      ...{ input: 'doubler', minus: lower.minus },
      doubler: { middle: upper.minus, farads: [upper.reservoirFarads, lower.reservoirFarads] },
      phases: [upper.phases[0], lower.phases[0]],
      pieces: [upper.pieces[0], lower.pieces[0]],
      ownPieces: [...upper.ownPieces, ...lower.ownPieces],
      emfVoltsRms: [upper.emfVoltsRms[0], lower.emfVoltsRms[0]],
      reservoirs: [...upper.reservoirs, ...lower.reservoirs],
      reservoirFarads: Math.max(upper.reservoirFarads, lower.reservoirFarads),
      replaced: distinct([...upper.replaced, ...lower.replaced]),
      insideNets: distinct([...upper.insideNets, ...lower.insideNets]),
    });
  }
  return [...supplies.filter((supply) => !used.has(supply)), ...joined];
}

/** A bias supply taken off the HT winding through its own dropper is no doubler: it hardly loads it. */
function isBiasPair(one: FoundSupply, other: FoundSupply): boolean {
  const [low, high] = [one.phases[0].ohms, other.phases[0].ohms].sort((a, b) => a - b);
  return high! > 20 * low!;
}

/** Sorts the rectifiers that no supply claims: not predicted, or idle. */
function sortRest(map: PathMap, supplies: readonly FoundSupply[], notPredicted: NotPredicted[]): string[] {
  const settled = new Set([
    ...supplies.flatMap(({ replaced }) => replaced),
    ...notPredicted.flatMap(({ rectifiers }) => rectifiers),
  ]);
  const known = new Set(
    supplies.flatMap(({ plus, minus, insideNets, doubler }) => [
      ...[plus, minus, ...insideNets],
      ...(doubler ? [doubler.middle] : []),
    ]),
  );
  const reached = netsOnWindings(map);
  const idle: string[] = [];
  for (const group of map.rectifiers) {
    const left = group.ids.filter((id) => !settled.has(id));
    if (left.length === 0) continue;
    const nets = [group.anode, group.cathode];
    const isFed = nets.some((net) => reached.has(net));
    if (!isFed || nets.every((net) => known.has(net)) || nets.some((net) => isDangling(map, net))) {
      idle.push(...left);
    } else {
      const isBlocked = outputPairs(map.wiring).some(([minus, plus]) =>
        pathsBetween(map, minus, plus, false).some(
          ({ pieces, rectifiers }) => pieces.length > 0 && rectifiers.includes(group),
        ),
      );
      notPredicted.push({
        reason: isBlocked ? 'loaded-before-reservoir' : 'no-reservoir',
        rectifiers: left,
        nets,
      });
    }
  }
  return idle;
}

/** Nets joined to a winding through rectifiers and series resistors, either way round. */
function netsOnWindings(map: PathMap): Set<string> {
  const reached = new Set(
    map.wiring.windings.flatMap(({ pieces }) => pieces.flatMap(({ from, to }) => [from, to])),
  );
  const links = [
    ...map.rectifiers.map(({ anode, cathode }) => [anode, cathode] as const),
    ...map.series.map(({ nets }) => nets),
  ];
  for (let grown = true; grown;) {
    grown = false;
    for (const [one, other] of links) {
      if (reached.has(one) === reached.has(other)) continue;
      reached.add(one).add(other);
      grown = true;
    }
  }
  return reached;
}

/** A net with a single end on it. */
function isDangling({ wiring }: PathMap, net: string): boolean {
  let ends = wiring.otherNets.includes(net) ? 1 : 0;
  const count = (nets: readonly string[]): void => {
    ends += nets.filter((each) => each === net).length;
  };
  for (const { pieces } of wiring.windings) pieces.forEach(({ from, to }) => count([from, to]));
  for (const { anode, cathode } of wiring.rectifiers) count([anode, cathode]);
  for (const { nets } of [...wiring.capacitors, ...wiring.resistors]) count(nets);
  return ends <= 1;
}

function noteSharing(supply: FoundSupply, supplies: readonly FoundSupply[]): FoundSupply {
  const others = supplies.filter((other) => other !== supply && other.winding === supply.winding);
  return { ...supply, sharesWindingWith: others.map(({ plus, minus }) => `${plus} ${minus}`) };
}
