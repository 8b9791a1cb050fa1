import { semiconductorCircuits } from '../devices/semiconductor-circuits.ts';
import type { StudyCircuit } from './study-circuit.ts';
import { supplyCircuits } from './supply-circuits.ts';
import { valveCircuits } from './valve-circuits.ts';

/** Twenty-one circuits with every device in at least one of them. */
export const studyCircuits: readonly StudyCircuit[] = [
  ...valveCircuits,
  ...supplyCircuits,
  ...semiconductorCircuits.map(({ title, of }) => ({
    ...{ title, of },
    moved: of.elements.find(({ device }) => device.name === 'voltage-source')!.id,
  })),
];
