import type { CircuitElement } from '../circuit/circuit.ts';
import { lawNumbers, type SupplyPhase } from '../circuit/supply/rectifier-law.ts';
import type { FoundSupply } from '../circuit/supply/supply-wiring.ts';
import type { CompiledElement } from '../circuit/compile.ts';
import type { SupplyWaveform } from '../circuit/supply/waveform.ts';
import { chargePumpSupply, pumpWaveform } from './charge-pump-supply.ts';
import { chokeInputSupply, chokeWaveform } from './choke-input-supply.ts';
import { doublerSupply, doublerWaveform } from './doubler-supply.ts';
import { rectifierSupply, supplyWaveform } from './rectifier-supply.ts';

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
  const nets = [supply.plus, supply.minus];
  const phase1 = parametersOf('phase1', supply.phases[0]);
  if (supply.pump) {
    const parameters = { ...phase1, hertz: supply.hertz, pumpFarads: supply.pump.farads };
    return { id, device: chargePumpSupply, nets, parameters };
  }
  const phases = { ...phase1, ...parametersOf('phase2', supply.phases[1]) };
  if (supply.doubler) {
    const [upperFarads, lowerFarads] = supply.doubler.farads;
    return {
      ...{ id, device: doublerSupply, nets: [supply.plus, supply.doubler.middle, supply.minus] },
      parameters: { ...phases, hertz: supply.hertz, upperFarads, lowerFarads },
    };
  }
  const parameters = {
    ...phases,
    hertz: supply.hertz,
    isBridge: supply.form === 'bridge' ? 1 : 0,
  };
  if (!supply.choke) return { id, device: rectifierSupply, nets, parameters };
  const { henries, ohms } = supply.choke;
  return {
    ...{ id, device: chokeInputSupply, nets },
    parameters: { ...parameters, chokeHenries: henries, chokeOhms: ohms },
  };
}

/** How the periodic waveform of each kind of supply is found. */
const waveformsOf: Readonly<
  Record<string, (unknowns: Float64Array, parameters: Float64Array) => SupplyWaveform | null>
> = {
  [rectifierSupply.name]: supplyWaveform,
  [chokeInputSupply.name]: chokeWaveform,
  [chargePumpSupply.name]: pumpWaveform,
  [doublerSupply.name]: doublerWaveform,
};

/** The periodic waveform of a solved supply of any kind; null where it was not found or nothing flows. */
export function waveformOfSupply({
  device,
  point,
  parameters,
}: Pick<CompiledElement, 'device' | 'point' | 'parameters'>): SupplyWaveform | null {
  return waveformsOf[device.name]?.(point, parameters) ?? null;
}
