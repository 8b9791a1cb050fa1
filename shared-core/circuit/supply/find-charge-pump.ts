import { isSameLaw } from './rectifier-law.ts';
import { harmlessOhms, leastReservoirFarads, type ParallelRectifiers, type PathMap } from './supply-paths.ts';
import type { FoundSupply, WiredCapacitor } from './supply-wiring.ts';
import { joinPieces, type OpenPiece, peakOf } from './transformer.ts';

/** A smaller capacitor, in farads (F), pumps too little to be meant. */
const leastPumpFarads = 1e-8;

/**
 * Finds series capacitors that pump charge from a winding through two rectifiers into a reservoir: the
 * cascade (half-wave) doubler, and the bias supply taken off the HT winding through a capacitor.
 *
 * One rectifier leads from the reservoir's minus to the capacitor, the other from there to its plus; the
 * winding returns to either end of the reservoir.
 */
export function chargePumps(map: PathMap): readonly FoundSupply[] {
  return map.wiring.capacitors.flatMap((pump) =>
    pump.farads < leastPumpFarads || pump.nets[0] === pump.nets[1]
      ? []
      : [pumpAt(map, pump, pump.nets[0], pump.nets[1]), pumpAt(map, pump, pump.nets[1], pump.nets[0])].filter(
          (found) => found !== null,
        ),
  );
}

/** The two rectifiers between which the pump's end stands, if nothing else is there. */
function pairAt(
  { wiring, rectifiers }: PathMap,
  pump: WiredCapacitor,
  net: string,
): readonly [ParallelRectifiers, ParallelRectifiers] | null {
  const isOn = ({ nets }: { readonly nets: readonly string[] }): boolean => nets.includes(net);
  const isTaken =
    wiring.otherNets.includes(net) ||
    wiring.capacitors.some((part) => part.id !== pump.id && part.farads >= leastPumpFarads && isOn(part)) ||
    wiring.resistors.some((part) => part.ohms < harmlessOhms && isOn(part)) ||
    (wiring.chokes ?? []).some(isOn) ||
    wiring.windings.some(({ pieces }) => pieces.some(({ from, to }) => from === net || to === net));
  const [into, out] = [
    rectifiers.filter(({ cathode }) => cathode === net),
    rectifiers.filter(({ anode }) => anode === net),
  ];
  return isTaken || into.length !== 1 || out.length !== 1 ? null : [into[0]!, out[0]!];
}

function pumpAt(map: PathMap, pump: WiredCapacitor, inner: string, outer: string): FoundSupply | null {
  const { wiring } = map;
  const pair = pairAt(map, pump, inner);
  if (!pair) return null;
  const [into, out] = pair;
  const [minus, plus] = [into.anode, out.cathode];
  if (minus === plus || !into.law || !out.law || !isSameLaw(into.law, out.law)) return null;
  const reservoirs = wiring.capacitors.filter(
    ({ nets, farads }) => farads >= leastReservoirFarads && nets.includes(plus) && nets.includes(minus),
  );
  if (reservoirs.length === 0) return null;
  const way = wayThroughWinding(map, outer, minus) ?? wayThroughWinding(map, outer, plus);
  if (!way) return null;
  const piece = joinPieces(way.pieces);
  const surge = way.resistors.reduce((sum, { ohms }) => sum + ohms, 0);
  const phase = {
    emfVolts: peakOf(piece.ratio * wiring.core.volts, wiring.flatTop),
    ohms: piece.ohms + piece.ratio ** 2 * wiring.core.ohms + surge,
    law: out.law,
    junctions: 1,
  };
  // The outer end's positive half drives the second rectifier, its negative half the first.
  const isOpposite = way.sign < 0;
  const volts = piece.ratio * wiring.core.volts;
  return {
    plus,
    minus,
    form: 'half-wave',
    ...{ input: 'pump', choke: null, pump, doubler: null },
    isPhaseMissing: false,
    hertz: wiring.hertz,
    winding: way.winding,
    phases: [
      { ...phase, isOpposite },
      { ...phase, isOpposite: !isOpposite },
    ],
    pieces: [piece, piece],
    ownPieces: [way.pieces, way.pieces],
    emfVoltsRms: [volts, volts],
    reservoirs: reservoirs.map(({ id }) => id),
    reservoirFarads: reservoirs.reduce((sum, { farads }) => sum + farads, 0),
    replaced: [...into.ids, ...out.ids],
    insideNets: [inner],
    sharesWindingWith: [],
  };
}

interface Way {
  readonly winding: string;
  readonly pieces: readonly OpenPiece[];
  /** +1 where EMFs are positive at the pump's end. */
  readonly sign: number;
  readonly resistors: readonly { readonly id: string; readonly ohms: number }[];
}

/** From the pump's outer end through series resistors and pieces of one winding, all the same way round. */
function wayThroughWinding({ wiring, series }: PathMap, from: string, to: string): Way | null {
  const walk = (net: string, way: Way, seen: readonly string[]): Way | null => {
    if (net === to) return way.pieces.length > 0 ? way : null;
    for (const { id, pieces } of wiring.windings) {
      for (const { from: a, to: b, piece } of pieces) {
        const next = a === net ? b : b === net ? a : null;
        const sign = a === net ? 1 : -1;
        if (next === null || seen.includes(next) || way.pieces.includes(piece)) continue;
        if (way.pieces.length > 0 && (way.winding !== id || way.sign !== sign)) continue;
        const found = walk(next, { ...way, winding: id, sign, pieces: [...way.pieces, piece] }, [
          ...seen,
          next,
        ]);
        if (found) return found;
      }
    }
    if (way.pieces.length > 0) return null;
    for (const { id, nets, ohms } of wiring.resistors) {
      const next = nets[0] === net ? nets[1] : nets[1] === net ? nets[0] : null;
      const isSeries = series.some((part) => part.id === id) || endsOn(wiring, net) === 2;
      if (next === null || seen.includes(next) || !isSeries) continue;
      const grown = { ...way, resistors: [...way.resistors, { id, ohms }] };
      const found = walk(next, grown, [...seen, next]);
      if (found) return found;
    }
    return null;
  };
  return walk(from, { winding: '', pieces: [], sign: 0, resistors: [] }, [from]);
}

/** How many ends of capacitors, resistors and rectifiers stand on a net. */
function endsOn({ capacitors, resistors, rectifiers }: PathMap['wiring'], net: string): number {
  const passive = [...capacitors, ...resistors].filter(({ nets }) => nets[0] === net || nets[1] === net);
  return passive.length + rectifiers.filter(({ anode, cathode }) => anode === net || cathode === net).length;
}
