import type { Circuit } from '../../../shared-core/circuit/circuit.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { findSupplies } from '../../../shared-core/circuit/supply/find-supply.ts';
import type { FoundSupply } from '../../../shared-core/circuit/supply/supply-wiring.ts';
import {
  type CoreSource,
  openCircuitVolts,
  type OpenTransformer,
  reduceCore,
} from '../../../shared-core/circuit/supply/transformer.ts';
import type { SupplyWaveform } from '../../../shared-core/circuit/supply/waveform.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { settleSharing } from '../../../shared-core/devices/settle-sharing.ts';
import { supplyElement, waveformOfSupply } from '../../../shared-core/devices/supply-element.ts';
import { c, circuit, element, l, r } from '../../helpers/circuit.ts';
import type { IslandCase } from './island-cases.ts';

/** A case the way the prediction sees it. */
export interface BuiltIsland {
  readonly transformer: OpenTransformer;
  readonly core: CoreSource;
  readonly supplies: readonly FoundSupply[];
  readonly circuit: Circuit;
}

/** Builds our side of a case. */
export function buildIsland(of: IslandCase): BuiltIsland {
  const transformer = openCircuitVolts(of.transformer);
  const core = reduceCore(transformer, of.mainsVolts, []);
  const { supplies, notPredicted } = findSupplies({
    ...{ core, flatTop: 0, hertz: of.hertz },
    windings: Object.entries(of.windings).map(([id, pieces]) => ({
      id,
      pieces: pieces.map(([from, to], index) => ({
        ...{ from, to },
        piece: transformer.windings.find(({ name }) => name === id)!.pieces[index]!,
      })),
    })),
    rectifiers: of.rectifiers.map(([anode, cathode, law], index) => ({
      id: `D${index}`,
      anode,
      cathode,
      law,
    })),
    capacitors: Object.entries(of.capacitors).map(([id, [one, other, farads]]) => ({
      ...{ id, nets: [one, other] as const, farads },
    })),
    chokes: Object.entries(of.chokes).map(([id, [one, other, henries, ohms]]) => ({
      ...{ id, nets: [one, other] as const, henries, ohms },
    })),
    resistors: Object.entries(of.resistors).map(([id, [one, other, ohms]]) => ({
      ...{ id, nets: [one, other] as const, ohms },
    })),
    otherNets: ['gnd'],
  });
  if (supplies.length === 0 || notPredicted.length > 0) {
    throw new Error(`${of.title}: ${JSON.stringify({ supplies, notPredicted })}`);
  }
  const replaced = new Set(supplies.flatMap((supply) => supply.replaced));
  return {
    ...{ transformer, core, supplies },
    circuit: circuit(
      ...supplies.map((supply, index) => supplyElement(`supply${index}`, supply)),
      ...Object.entries(of.capacitors).map(([id, [one, other, farads]]) => c(id, one, other, farads)),
      ...Object.entries(of.chokes).map(([id, [one, other, henries, ohms]]) =>
        l(id, one, other, henries, ohms),
      ),
      ...Object.entries(of.resistors)
        .filter(([id]) => !replaced.has(id))
        .map(([id, [one, other, ohms]]) => r(id, one, other, ohms)),
      ...of.loads.map(([from, to, amps], index) => element(`I${index}`, currentSource, [from, to], { amps })),
    ),
  };
}

/** Our side solved. */
export interface SolvedIsland extends BuiltIsland {
  readonly solver: Solver;
  readonly waveforms: readonly (SupplyWaveform | null)[];
}

/** Solves our side. */
export function solveIsland(of: IslandCase): SolvedIsland {
  const built = buildIsland(of);
  const solver = new Solver(built.circuit);
  solver.solve();
  settleSharing(
    solver,
    built.supplies.map((supply, index) => ({ id: `supply${index}`, supply })),
    built.core.ohms,
  );
  const waveforms = built.supplies.map((_, index) =>
    waveformOfSupply(solver.evaluateElement(`supply${index}`)),
  );
  return { ...built, solver, waveforms };
}

/**
 * The same case for the simulator, from the transformer's turns and copper.
 *
 * @param startOf Voltage of a capacitor or current of a choke at the rising zero of the mains.
 */
export function islandNetlist(
  of: IslandCase,
  transformer: OpenTransformer,
  startOf: (id: string) => number,
  options: string,
  step: number,
): string {
  const node = (net: string): string => (net === 'gnd' ? '0' : net);
  const lines = [
    'island',
    `vm m0 0 sin(0 ${Math.SQRT2 * of.mainsVolts} ${of.hertz})`,
    `rp m0 core ${transformer.primaryOhms}`,
  ];
  for (const [id, pieces] of Object.entries(of.windings)) {
    pieces.forEach(([from, to], index) => {
      const { ratio, ohms } = transformer.windings.find(({ name }) => name === id)!.pieces[index]!;
      const name = `${id}${index}`;
      lines.push(`e${name} ${name}x ${node(to)} core 0 ${ratio}`, `v${name} ${name}x ${name}y 0`);
      lines.push(`r${name} ${name}y ${node(from)} ${ohms}`, `f${name} core 0 v${name} ${ratio}`);
    });
  }
  const models = new Map<string, string>();
  of.rectifiers.forEach(([anode, cathode, law], index) => {
    const [plus, minus] = [node(anode), node(cathode)];
    if (law.kind === 'valve') {
      const drop = `v(${plus},${minus})`;
      lines.push(`b${index} ${plus} ${minus} i=${drop} > 0 ? ${law.perveance}*pow(${drop},1.5) : 0`);
    } else if (law.kind === 'semiconductor') {
      const model = `d(is=${law.saturationAmps} n=${law.emission} rs=${law.bulkOhms})`;
      if (!models.has(model)) models.set(model, `dm${models.size}`);
      lines.push(`d${index} ${plus} ${minus} ${models.get(model)}`);
    }
  });
  for (const [model, name] of models) lines.push(`.model ${name} ${model}`);
  for (const [id, [one, other, farads]] of Object.entries(of.capacitors)) {
    lines.push(`c${id} ${node(one)} ${node(other)} ${farads} ic=${startOf(id)}`);
  }
  for (const [id, [one, other, henries, ohms]] of Object.entries(of.chokes)) {
    lines.push(
      `l${id} ${node(one)} ${id}m ${henries} ic=${startOf(id)}`,
      `r${id} ${id}m ${node(other)} ${ohms}`,
    );
    // Where the current ceases, a stray capacitance holds the node while no rectifier does.
    lines.push(`cs${id} ${node(one)} ${node(other)} 20p`, `rs${id} ${node(one)} ${node(other)} 20meg`);
  }
  for (const [id, [one, other, ohms]] of Object.entries(of.resistors)) {
    lines.push(`r${id} ${node(one)} ${node(other)} ${ohms}`);
  }
  of.loads.forEach(([from, to, amps], index) => lines.push(`i${index} ${node(from)} ${node(to)} ${amps}`));
  // A floating winding needs a way to ground, and a stray capacitance while no rectifier conducts.
  for (const net of new Set(Object.values(of.windings).flatMap((pieces) => pieces.flat()))) {
    if (net !== 'gnd') lines.push(`rf${net} ${net} 0 1e9`, `cf${net} ${net} 0 10p`);
  }
  const end = of.cycles / of.hertz;
  return [...lines, options, `.tran ${step} ${end} ${end - 2.02 / of.hertz} ${step} uic`, '.end', ''].join(
    '\n',
  );
}

/** Our periodic state at the rising zero of the mains: volts of a capacitor, amperes of a choke. */
export function startOf(of: IslandCase, { supplies, solver, waveforms }: SolvedIsland, id: string): number {
  for (const [index, supply] of supplies.entries()) {
    const { device, parameters } = solver.element(`supply${index}`);
    const own = (name: string): number =>
      parameters[device.parameters.findIndex((each) => each.name === name)]!;
    const { choke, pump, doubler } = supply;
    if (choke?.id === id)
      return (choke.nets[0] === supply.plus || choke.nets[1] === supply.minus ? 1 : -1) * own('startAmps');
    if (pump?.id === id) return (pump.nets[0] === supply.insideNets[0] ? 1 : -1) * own('pumpStartVolts');
    if (!supply.reservoirs.includes(id)) continue;
    if (!doubler) return waveforms[index]!.startVolts;
    return own(of.capacitors[id]![1] === supply.minus ? 'lowerStartVolts' : 'upperStartVolts');
  }
  const [plus, minus] = of.capacitors[id]!;
  return solver.volts(plus) - solver.volts(minus);
}
