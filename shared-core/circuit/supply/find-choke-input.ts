import {
  harmlessOhms,
  leastReservoirFarads,
  type PathMap,
  pathsBetween,
  type SupplyPath,
} from './supply-paths.ts';
import type { FoundSupply, WiredChoke } from './supply-wiring.ts';

/** Rectifiers that work into a choke. */
export interface FoundChokeInput {
  readonly plus: string;
  readonly minus: string;
  readonly paths: readonly SupplyPath[];
  /** What goes into the supply beside its phases. */
  readonly input: Pick<FoundSupply, 'input' | 'choke' | 'reservoirs' | 'reservoirFarads'>;
}

/**
 * Finds the rectifiers that work into a choke: nothing but rectifiers and the choke on its first end, a
 * reservoir from its second end to the other side of the supply. The choke may stand in either lead.
 */
export function chokeInputs(map: PathMap): readonly FoundChokeInput[] {
  return (map.wiring.chokes ?? []).flatMap((choke) => {
    const [one, other] = choke.nets;
    if (one === other) return [];
    return [...inputsAt(map, choke, one, other), ...inputsAt(map, choke, other, one)];
  });
}

function inputsAt(map: PathMap, choke: WiredChoke, near: string, far: string): readonly FoundChokeInput[] {
  const { wiring } = map;
  if (!isOnlyFed(map, choke, near)) return [];
  const behind = wiring.capacitors.filter(
    ({ nets, farads }) => farads >= leastReservoirFarads && nets.includes(far) && !nets.includes(near),
  );
  const opposites = new Set(behind.map(({ nets }) => (nets[0] === far ? nets[1] : nets[0])));
  return [...opposites].flatMap((opposite): readonly FoundChokeInput[] => {
    const reservoirs = behind.filter(({ nets }) => nets.includes(opposite));
    const input = {
      ...{ input: 'choke' as const, choke },
      reservoirs: reservoirs.map(({ id }) => id),
      reservoirFarads: reservoirs.reduce((sum, { farads }) => sum + farads, 0),
    };
    return (
      [
        [opposite, near],
        [near, opposite],
      ] as const
    ).flatMap(([minus, plus]) => {
      const paths = pathsBetween(map, minus, plus).filter(({ pieces }) => pieces.length > 0);
      return paths.length > 0 ? [{ plus, minus, paths, input }] : [];
    });
  });
}

/** Whether a net has only rectifiers beside the choke; small capacitors and high resistances do not count. */
function isOnlyFed({ wiring }: PathMap, choke: WiredChoke, net: string): boolean {
  const isOn = ({ nets }: { readonly nets: readonly string[] }): boolean => nets.includes(net);
  return (
    !wiring.otherNets.includes(net) &&
    !wiring.capacitors.some((part) => part.farads >= leastReservoirFarads && isOn(part)) &&
    !wiring.resistors.some((part) => part.ohms < harmlessOhms && isOn(part)) &&
    !(wiring.chokes ?? []).some((part) => part.id !== choke.id && isOn(part)) &&
    !wiring.windings.some(({ pieces }) => pieces.some(({ from, to }) => from === net || to === net)) &&
    wiring.rectifiers.some(({ anode, cathode }) => anode === net || cathode === net)
  );
}
