import type { Circuit, CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import { sectionDevice } from '../../../shared-core/valves/section-law.ts';
import { element } from '../../helpers/circuit.ts';

/** A circuit that the engine is compared with the reference simulator on. */
export interface StudyCircuit {
  readonly title: string;
  readonly of: Circuit;
  /** The voltage source that carries 1 V of small signal: the input, else the supply (hum). */
  readonly moved: string;
}

/** The first section of a valve of the catalogue, with parameters changed where named. */
export function valve(
  id: string,
  type: string,
  nets: readonly string[],
  changes: Readonly<Record<string, number>> = {},
): CircuitElement {
  const section = findValveType(type)!.sections[0]!;
  return element(id, sectionDevice(section), nets, { ...section.parameters, ...changes });
}
