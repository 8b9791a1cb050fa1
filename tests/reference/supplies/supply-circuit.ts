import type { Circuit } from '../../../shared-core/circuit/circuit.ts';
import { findSupplies } from '../../../shared-core/circuit/supply/find-supply.ts';
import type {
  FoundSupply,
  WiredRectifier,
  WiredWinding,
} from '../../../shared-core/circuit/supply/supply-wiring.ts';
import {
  type CoreSource,
  type LinearLoad,
  openCircuitVolts,
  type OpenTransformer,
  reduceCore,
} from '../../../shared-core/circuit/supply/transformer.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { supplyElement } from '../../../shared-core/devices/supply-element.ts';
import { c, circuit, element, l, r } from '../../helpers/circuit.ts';
import type { SupplyCase } from './supply-cases.ts';

/** A case the way the prediction sees it. */
export interface BuiltSupply {
  readonly transformer: OpenTransformer;
  readonly core: CoreSource;
  readonly loads: readonly LinearLoad[];
  readonly supply: FoundSupply;
  readonly circuit: Circuit;
}

/** Where each rectifier sits: anode net, cathode net. Surge resistors stand between `a`, `b` and `ax`, `bx`. */
export function rectifierNets({ form, surgeOhms }: SupplyCase): readonly (readonly [string, string])[] {
  const [a, b] = surgeOhms > 0 ? ['ax', 'bx'] : ['a', 'b'];
  if (form === 'bridge')
    return [
      [a, 'b1'],
      [b, 'b1'],
      ['gnd', a],
      ['gnd', b],
    ];
  return form === 'centre-tap'
    ? [
        [a, 'b1'],
        [b, 'b1'],
      ]
    : [[a, 'b1']];
}

/** Ends of the HT pieces: the tap, or the far end of a half-wave winding, is grounded. */
export function pieceNets({ form, transformer }: SupplyCase): readonly (readonly [string, string])[] {
  if (transformer.windings[0]!.centreTapped)
    return [
      ['a', 'gnd'],
      ['gnd', 'b'],
    ];
  return form === 'bridge' ? [['a', 'b']] : [['a', 'gnd']];
}

/** Builds our side of a case. */
export function buildSupply(of: SupplyCase): BuiltSupply {
  const transformer = openCircuitVolts(of.transformer);
  const loads = Object.entries(of.heaters).map(([winding, ohms]) => ({ winding, ohms }));
  const core = reduceCore(transformer, of.mainsVolts, loads);
  const ht: WiredWinding = {
    id: 'ht',
    pieces: pieceNets(of).map(([from, to], index) => ({
      from,
      to,
      piece: transformer.windings[0]!.pieces[index]!,
    })),
  };
  const rectifiers = rectifierNets(of).map(([anode, cathode], index): WiredRectifier => ({
    id: `D${index}`,
    anode,
    cathode,
    law: of.law,
  }));
  const { supplies, notPredicted } = findSupplies({
    ...{ core, flatTop: 0, hertz: of.hertz, windings: [ht], rectifiers },
    capacitors: [{ id: 'C1', nets: ['b1', 'gnd'], farads: of.farads }],
    resistors:
      of.surgeOhms > 0
        ? (['a', 'b'] as const).map((end) => ({
            id: `R${end}`,
            nets: [end, `${end}x`] as const,
            ohms: of.surgeOhms,
          }))
        : [],
    otherNets: ['gnd', 'b1'],
  });
  if (supplies.length !== 1) throw new Error(`${of.title}: ${JSON.stringify(notPredicted)}`);
  const supply = supplies[0]!;
  return {
    ...{ transformer, core, loads, supply },
    circuit: circuit(
      supplyElement('supply', supply),
      c('C1', 'b1', 'gnd', of.farads),
      of.filterHenries > 0
        ? l('R1', 'b1', 'b2', of.filterHenries, of.filterOhms)
        : r('R1', 'b1', 'b2', of.filterOhms),
      c('C2', 'b2', 'gnd', of.filterFarads),
      r('load', 'b2', 'gnd', of.loadOhms),
      element('I1', currentSource, ['b2', 'gnd'], { amps: of.loadAmps }),
    ),
  };
}

/**
 * The same case for the simulator, from the transformer's turns and copper: no Thévenin reduction, no averaging.
 *
 * @param start Voltages of the two capacitors where the mains rises through zero, in volts (V).
 */
export function transientNetlist(
  of: SupplyCase,
  transformer: OpenTransformer,
  start: readonly [number, number],
  options: string,
  cycles: number,
  step: number,
): string {
  const node = (net: string): string => (net === 'gnd' ? '0' : net);
  const lines = [
    'supply',
    `vm m 0 sin(0 ${Math.SQRT2 * of.mainsVolts} ${of.hertz})`,
    `rp m core ${transformer.primaryOhms}`,
  ];
  const addPiece = (id: string, from: string, to: string, ratio: number, ohms: number): void => {
    lines.push(`e${id} ${id}x ${node(to)} core 0 ${ratio}`, `v${id} ${id}x ${id}y 0`);
    lines.push(`r${id} ${id}y ${node(from)} ${ohms}`, `f${id} core 0 v${id} ${ratio}`);
  };
  pieceNets(of).forEach(([from, to], index) => {
    const { ratio, ohms } = transformer.windings[0]!.pieces[index]!;
    addPiece(`w${index}`, from, to, ratio, ohms);
  });
  for (const [name, ohms] of Object.entries(of.heaters)) {
    const [piece] = transformer.windings.find((winding) => winding.name === name)!.pieces;
    addPiece(name, 'heat', 'gnd', piece!.ratio, piece!.ohms);
    lines.push(`rheat heat 0 ${ohms}`);
  }
  if (of.surgeOhms > 0) lines.push(`rsa a ax ${of.surgeOhms}`, `rsb b bx ${of.surgeOhms}`);
  rectifierNets(of).forEach(([anode, cathode], index) => {
    const [plus, minus] = [node(anode), node(cathode)];
    if (of.law.kind === 'valve') {
      const drop = `v(${plus},${minus})`;
      lines.push(`b${index} ${plus} ${minus} i=${drop} > 0 ? ${of.law.perveance}*pow(${drop},1.5) : 0`);
    } else lines.push(`d${index} ${plus} ${minus} dm`);
  });
  if (of.law.kind === 'semiconductor') {
    lines.push(`.model dm d(is=${of.law.saturationAmps} n=${of.law.emission} rs=${of.law.bulkOhms})`);
  }
  lines.push(
    `c1 b1 0 ${of.farads}`,
    `r1 b1 bf ${of.filterOhms}`,
    of.filterHenries > 0 ? `l1 bf b2 ${of.filterHenries}` : 'v1 bf b2 0',
  );
  lines.push(`c2 b2 0 ${of.filterFarads}`, `rl b2 0 ${of.loadOhms}`, `i1 b2 0 ${of.loadAmps}`);
  // A floating winding needs a way to ground, and a stray capacitance while no diode conducts.
  if (of.form === 'bridge') lines.push('rf a 0 1e9');
  if (of.form !== 'half-wave') lines.push('cfa a 0 10p', 'cfb b 0 10p');
  return [
    ...lines,
    options,
    `.tran ${step} ${cycles / of.hertz} 0 ${step}`,
    `.ic v(b1)=${start[0]} v(b2)=${start[1]}`,
    '.end',
    '',
  ].join('\n');
}
