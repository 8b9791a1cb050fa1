import type { CircuitElement } from '../circuit/circuit.ts';
import { Solver } from '../circuit/solver.ts';
import { currentSource } from '../devices/current-source.ts';
import type { Reading } from '../kit/kit.ts';
import type { ConditionModel } from './condition-model.ts';
import { ohmsTests } from './meter.ts';
import { type ElementContext, partElements, partValue } from './part-elements.ts';
import { readWorld, type World } from './world.ts';

/** What an ohmmeter shows on a cold amplifier. */
export interface OhmsReading {
  readonly id: string;
  /** In ohms (Ω); null is OL. */
  readonly ohms: number | null;
  /** Until the figure is within 1 % of its end, in seconds (s); null for OL. */
  readonly settleSeconds: number | null;
}

/** Time constants until the rest of a single exponential is below 1 %: ln 100. */
const settleConstants = Math.log(100);

/** A compiled cold circuit: kept by the caller between worlds. */
export interface OhmsModel {
  readonly model: ConditionModel;
  readonly readings: readonly Reading[];
  solver: Solver | null;
}

/** Opens the cold circuit of a condition. */
export function openOhms(model: ConditionModel): OhmsModel {
  const readings = model.chosen.readings.filter(
    (reading) => reading.in === model.condition.id && reading.measure === 'ohms' && reading.expect === null,
  );
  return { model, readings, solver: null };
}

/**
 * What the ohmmeter shows: a small current from the red probe through the circuit, capacitors settled,
 * valves cold, junctions of diodes below their knee (0.4 V at full scale).
 */
export function readOhms(ohms: OhmsModel, world: World): readonly OhmsReading[] {
  const { model, readings } = ohms;
  const context: ElementContext = { ...model.context, heat: 'cold', world: readWorld(world) };
  const { wiring, chosen } = context;
  const elements: CircuitElement[] = chosen.parts.flatMap((part) => partElements(context, part));
  for (const { id, at, against } of readings) {
    const nets = [wiring.netAt(against), wiring.netAt(at)];
    elements.push({ id: `#ohmmeter ${id}`, device: currentSource, nets, parameters: {} });
  }
  const solver = new Solver({
    elements: elements.filter(({ nets }) => new Set(nets).size > 1),
    reference: wiring.reference,
  });
  const stores = chosen.parts.flatMap((part) =>
    part.kind === 'capacitor'
      ? [
          {
            nets: part.between.map((place) => wiring.netAt(place)),
            farads: partValue(context, part.id, part.farads),
          },
        ]
      : [],
  );
  const volts = (net: string | undefined): number =>
    net !== undefined && solver.compiled.netIndex.has(net) ? solver.volts(net) : 0;
  return readings.map(({ id, at, against }) => {
    const [red, black] = [wiring.netAt(at), wiring.netAt(against)];
    if (red === black) return { id, ohms: 0, settleSeconds: 0 };
    const source = `#ohmmeter ${id}`;
    const isOnlyLinear = solver.compiled.elements.every(({ device }) => device.linear);
    for (const { fullScale, amps } of isOnlyLinear ? ohmsTests.slice(-1) : ohmsTests) {
      solver.setParameter(source, 'amps', amps);
      const { converged } = solver.solve(false);
      const drop = volts(red) - volts(black);
      const shown = converged && drop < fullScale * amps * 1.0001 ? drop / amps : null;
      const moment = stores.reduce(
        (sum, { nets, farads }) => sum + farads * ((volts(nets[0]) - volts(nets[1])) / amps) ** 2,
        0,
      );
      solver.setParameter(source, 'amps', 0);
      // First moment of the approach (W. C. Elmore, J. Appl. Phys. 19, 1948): Σ C·R²/R at the port.
      if (shown !== null) {
        const settleSeconds = shown > 0 ? (settleConstants * moment) / shown : 0;
        return { id, ohms: Math.max(0, shown), settleSeconds };
      }
    }
    return { id, ohms: null, settleSeconds: null };
  });
}
