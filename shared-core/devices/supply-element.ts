import type { CircuitElement } from '../circuit/circuit.ts';
import { lawNumbers, type SupplyPhase } from '../circuit/supply/rectifier-law.ts';
import type { FoundSupply } from '../circuit/supply/supply-wiring.ts';
import { rectifierSupply } from './rectifier-supply.ts';

/** The flat parameters of one phase. */
function parametersOf(name: string, phase: SupplyPhase | null): Record<string, number> {
  if (!phase) return { [`${name}Law`]: lawNumbers.none };
  const { law } = phase;
  return {
    [`${name}EmfVolts`]: phase.emfVolts,
    [`${name}Ohms`]: phase.ohms,
    [`${name}Law`]: lawNumbers[law.kind],
    [`${name}Junctions`]: phase.junctions,
    ...(law.kind === 'valve' ? { [`${name}Perveance`]: law.perveance } : {}),
    ...(law.kind === 'semiconductor'
      ? {
          [`${name}SaturationAmps`]: law.saturationAmps,
          [`${name}Emission`]: law.emission,
          [`${name}BulkOhms`]: law.bulkOhms,
        }
      : {}),
  };
}

/** The element that stands for a recognised supply. */
export function supplyElement(id: string, supply: FoundSupply): CircuitElement {
  return {
    id,
    device: rectifierSupply,
    nets: [supply.plus, supply.minus],
    parameters: {
      ...parametersOf('phase1', supply.phases[0]),
      ...parametersOf('phase2', supply.phases[1]),
      hertz: supply.hertz,
      isBridge: supply.form === 'bridge' ? 1 : 0,
    },
  };
}
