import { lawNumbers } from '../../../shared-core/circuit/supply/rectifier-law.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { rectifierSupply } from '../../../shared-core/devices/rectifier-supply.ts';
import type { RectifierLimits, ValveType } from '../../../shared-core/valves/valve-type.ts';
import { c, circuit, element } from '../../helpers/circuit.ts';
import type { HandbookRow } from './handbook-rows.ts';

/** Curves of a sheet read to about 2 %; the law has to meet them within 3 %. */
const usualLimit = 0.03;
/** Published outputs of full-wave supplies with capacitor input and constant current, by the product's solver. */
export function rectifierRows(type: ValveType): readonly HandbookRow[] {
  const { rectifier } = type;
  if (!rectifier) return [];
  return rectifier.operations.map((operation) => {
    const { windingVolts, dcAmps, dcVolts } = operation;
    return {
      what: `${type.name} 2 × ${windingVolts} V, ${Math.round(1e4 * dcAmps) / 10} mA Vdc`,
      source: rectifier.source,
      expected: dcVolts,
      computed: outputVolts(type, operation),
      limit: usualLimit,
    };
  });
}

function outputVolts(
  type: ValveType,
  { windingVolts, anodeOhms, farads, dcAmps, hertz }: RectifierLimits['operations'][number],
): number {
  const perveance = type.sections[0]!.parameters['perveance']!;
  const phase = (name: string): Record<string, number> => ({
    [`${name}EmfVolts`]: Math.SQRT2 * windingVolts,
    [`${name}Ohms`]: anodeOhms,
    [`${name}Law`]: lawNumbers.valve,
    [`${name}Perveance`]: perveance,
  });
  const solver = new Solver(
    circuit(
      element('supply', rectifierSupply, ['b', 'gnd'], { ...phase('phase1'), ...phase('phase2'), hertz }),
      c('C1', 'b', 'gnd', farads),
      element('load', currentSource, ['b', 'gnd'], { amps: dcAmps }),
    ),
  );
  if (!solver.solve().converged) throw new Error('no operating point');
  return solver.volts('b');
}
