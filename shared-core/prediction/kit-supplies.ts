import type { CircuitElement } from '../circuit/circuit.ts';
import { findSupplies } from '../circuit/supply/find-supply.ts';
import type { RectifierLaw } from '../circuit/supply/rectifier-law.ts';
import type {
  FoundSupply,
  NotPredictedReason,
  SupplyWiring,
  WiredChoke,
  WiredRectifier,
  WiredWinding,
} from '../circuit/supply/supply-wiring.ts';
import { diode } from '../devices/diode.ts';
import { supplyElement } from '../devices/supply-element.ts';
import type { MainsNetwork, MainsSolution } from './mains-network.ts';
import { partElements } from './part-elements.ts';
import { type ElementContext, partValue } from './element-context.ts';
import { sectionParameters, valveInSocket } from './valve-elements.ts';

/** A heater below this share of its voltage gives a valve too little emission to count on: common practice, no source. */
export const leastHeaterShare = 0.7;

/** A supply with where it sits on the transformer. */
export interface KitSupply {
  /** Id of its element in the circuit. */
  readonly id: string;
  readonly supply: FoundSupply;
  readonly transformer: string;
  /** Winding pieces of each phase, as the mains side names them. */
  readonly windings: readonly (readonly string[])[];
}

/** Everything that rectifies in a kit. */
export interface KitSupplies {
  readonly found: readonly KitSupply[];
  /** Parts that a supply stands for: they are left out of the circuit. */
  readonly absorbed: ReadonlySet<string>;
  /** Nets that alternate: no DC figure there. */
  readonly alternating: ReadonlySet<string>;
  /** Why some nets are not predicted, in words, by net. */
  readonly notPredicted: Readonly<Record<string, string>>;
}

const reasons: Readonly<Record<NotPredictedReason, string>> = {
  'no-reservoir': 'a rectifier without a reservoir capacitor is not predicted',
  'loaded-before-reservoir': 'a rectifier that is loaded before its reservoir is not predicted',
  'winding-shorted':
    'a rectifier closes a winding without a reservoir: a short circuit where no resistor limits it',
  'unlike-rectifiers': 'unlike rectifiers in one path are not predicted',
  'parallel-phases': 'several rectifier paths on one half-wave are not predicted',
  'opposed-windings': 'windings that oppose each other are not predicted',
};

/** Finds the supplies on every transformer of a kit. */
export function kitSupplies(
  context: ElementContext,
  network: MainsNetwork,
  mains: MainsSolution,
  hertz: number,
): KitSupplies {
  const rectifiers = listRectifiers(context, mains);
  const found: KitSupply[] = [];
  const absorbed = new Set<string>();
  const alternating = new Set<string>();
  const notPredicted: Record<string, string> = {};
  for (const transformer of network.transformers) {
    const core = mains.cores[transformer.id];
    if (!core || transformer.volts === 0 || rectifiers.length === 0) continue;
    const { windings, idOfPiece } = wiredWindings(network, transformer.id);
    const wiring: SupplyWiring = {
      core: { volts: core.plainVolts, ohms: core.ohms, loadSiemens: 0, primaryOhms: transformer.primaryOhms },
      flatTop: context.world.factor('mains.crest') - 1,
      ...{ hertz, windings, rectifiers, ...passives(context) },
    };
    const answer = findSupplies(wiring);
    for (const supply of answer.supplies) {
      found.push({
        id: `#supply ${supply.plus} ${supply.minus}`,
        ...{ supply, transformer: transformer.id },
        windings: supply.ownPieces.map((own) => own.map((piece) => idOfPiece.get(piece) ?? '')),
      });
      supply.replaced.forEach((id) => absorbed.add(id));
      supply.insideNets.forEach((net) => alternating.add(net));
    }
    for (const { reason, rectifiers: ids, nets } of answer.notPredicted) {
      ids.forEach((id) => absorbed.add(id));
      for (const net of nets) if (net !== network.reference) notPredicted[net] = reasons[reason];
    }
  }
  return { found, absorbed, alternating, notPredicted };
}

/** The supplies as elements of the circuit. */
export function supplyElements(supplies: KitSupplies): readonly CircuitElement[] {
  return supplies.found.map(({ id, supply }) => supplyElement(id, supply));
}

function wiredWindings(
  network: MainsNetwork,
  transformer: string,
): { readonly windings: readonly WiredWinding[]; readonly idOfPiece: ReadonlyMap<object, string> } {
  const idOfPiece = new Map<object, string>();
  const windings = new Map<
    string,
    { from: string; to: string; piece: WiredWinding['pieces'][0]['piece'] }[]
  >();
  for (const { id, transformer: owner, nets, ratio, ohms } of network.windings) {
    if (owner !== transformer) continue;
    const piece = { emfVolts: 0, ratio, ohms };
    idOfPiece.set(piece, id);
    const name = id.split('.').slice(0, 2).join('.');
    windings.set(name, [...(windings.get(name) ?? []), { from: nets[0], to: nets[1], piece }]);
  }
  return { windings: [...windings].map(([id, pieces]) => ({ id, pieces })), idOfPiece };
}

/** Junction of a silicon rectifier: the diode device's own figures. */
function siliconLaw(): RectifierLaw {
  const own = (name: string): number =>
    diode.parameters.find((parameter) => parameter.name === name)?.initial ?? 0;
  return {
    kind: 'semiconductor',
    saturationAmps: own('saturationAmps'),
    emission: own('emissionFactor'),
    bulkOhms: own('seriesOhms'),
  };
}

function listRectifiers(context: ElementContext, mains: MainsSolution): readonly WiredRectifier[] {
  const { chosen, wiring } = context;
  return chosen.parts.flatMap((part): readonly WiredRectifier[] => {
    if (part.kind === 'diode') {
      const [anode, cathode] = part.between.map((place) => wiring.netAt(place));
      return [{ id: part.id, anode: anode ?? '', cathode: cathode ?? '', law: siliconLaw() }];
    }
    if (part.kind !== 'valve' || context.heat === 'cold') return [];
    const type = valveInSocket(context, part);
    if (!type) return [];
    const isHeated = type.heater.elements.every(
      (wire, index) =>
        (mains.heaterVolts[`${part.id}#heater${index + 1}`] ?? 0) >= leastHeaterShare * wire.volts,
    );
    if (!isHeated) return [];
    return type.sections.flatMap((section): readonly WiredRectifier[] => {
      if (section.device !== 'rectifier-valve') return [];
      const parameters = sectionParameters(context, part, type, section);
      const perveance = (parameters['perveance'] ?? 0) * (parameters['emission'] ?? 1);
      const netOf = (pin: string): string => wiring.netAt(`${part.id}.${section.pins[pin] ?? 0}`);
      return [
        {
          id: `${part.id}.${section.name}`,
          anode: netOf('anode'),
          cathode: netOf('cathode'),
          law: { kind: 'valve', perveance },
        },
      ];
    });
  });
}

function passives(
  context: ElementContext,
): Pick<SupplyWiring, 'capacitors' | 'resistors' | 'chokes' | 'otherNets'> {
  const { chosen, wiring, condition } = context;
  const chokes: WiredChoke[] = [];
  const capacitors: { id: string; nets: readonly [string, string]; farads: number }[] = [];
  const resistors: { id: string; nets: readonly [string, string]; ohms: number }[] = [];
  const otherNets = new Set<string>([wiring.reference]);
  for (const part of chosen.parts) {
    if (part.kind === 'capacitor' || part.kind === 'resistor') {
      const nets = [wiring.netAt(part.between[0]), wiring.netAt(part.between[1])] as const;
      if (nets[0] === nets[1]) continue;
      if (part.kind === 'capacitor') {
        capacitors.push({ id: part.id, nets, farads: partValue(context, part.id, part.farads) });
      } else resistors.push({ id: part.id, nets, ohms: partValue(context, part.id, part.ohms) });
    } else if (part.kind === 'choke') {
      const nets = [wiring.netAt(part.between[0]), wiring.netAt(part.between[1])] as const;
      const henries = partValue(context, part.id, part.henries);
      const ohms = part.dcrOhms * context.world.factor(`${part.id}.copper`);
      if (nets[0] !== nets[1]) chokes.push({ id: part.id, nets, henries, ohms });
    } else if (part.kind === 'valve') {
      const type = valveInSocket(context, part);
      for (const section of type?.sections ?? []) {
        if (section.device === 'rectifier-valve') continue;
        for (const pin of Object.values(section.pins)) otherNets.add(wiring.netAt(`${part.id}.${pin}`));
      }
    } else if (part.kind !== 'mains-transformer' && part.kind !== 'diode') {
      for (const { nets } of partElements(context, part)) nets.forEach((net) => otherNets.add(net));
    }
  }
  for (const id of Object.keys(condition.loads)) {
    const jack = chosen.parts.find((part) => part.id === id);
    if (jack?.kind !== 'jack') continue;
    jack.terminals.forEach((end) => otherNets.add(wiring.netAt(`${id}.${end}`)));
  }
  return { capacitors, resistors, chokes, otherNets: [...otherNets] };
}
