import type { DeviceParameter } from '../circuit/device.ts';
import { lawNumbers } from '../circuit/supply/rectifier-law.ts';

/** Parameters of one phase, in this order. */
export const perPhase = 8;
/** Positions of the rest. */
export const at = {
  hertz: 2 * perPhase,
  farads: 2 * perPhase + 1,
  bridge: 2 * perPhase + 2,
  shift: 2 * perPhase + 3,
  start: 2 * perPhase + 4,
  loadSiemens: 2 * perPhase + 5,
  totalFarads: 2 * perPhase + 6,
  lateSiemens: 2 * perPhase + 7,
  lateSeconds: 2 * perPhase + 8,
  ripple: 2 * perPhase + 9,
  sag: 2 * perPhase + 10,
} as const;

/** A parameter that the slow loop sets, from −limit to limit. */
export function ownParameter(name: string, unit: string, limit: number, meaning: string): DeviceParameter {
  return { name, unit, initial: 0, range: [-limit, limit], meaning: `${meaning}, set by the slow loop` };
}

/** What one phase of a supply is set by. */
export function phaseParameters(phase: 1 | 2): readonly DeviceParameter[] {
  const name = `phase${phase}`;
  const law = phase === 1 ? lawNumbers.valve : lawNumbers.none;
  return [
    {
      name: `${name}EmfVolts`,
      unit: 'V',
      initial: 350,
      range: [0, 5000],
      meaning: 'Peak of the open-circuit EMF',
    },
    {
      name: `${name}Ohms`,
      unit: 'Ω',
      initial: 150,
      range: [0.01, 1e5],
      meaning: 'Copper, reflected primary and surge resistor',
    },
    {
      name: `${name}Law`,
      unit: '',
      initial: law,
      range: [-1, 2],
      meaning: '−1 no phase, 0 no drop, 1 semiconductor, 2 valve',
    },
    {
      name: `${name}SaturationAmps`,
      unit: 'A',
      initial: 1e-9,
      range: [1e-15, 1e-6],
      meaning: 'Semiconductor: IS',
    },
    { name: `${name}Emission`, unit: '', initial: 1.8, range: [1, 3], meaning: 'Semiconductor: N' },
    {
      name: `${name}BulkOhms`,
      unit: 'Ω',
      initial: 0.04,
      range: [0, 10],
      meaning: 'Semiconductor: RS of one',
    },
    {
      name: `${name}Perveance`,
      unit: 'A/V^1.5',
      initial: 1.7085e-3,
      range: [0, 0.1],
      meaning: 'Valve: G of one',
    },
    { name: `${name}Junctions`, unit: '', initial: 1, range: [1, 4], meaning: 'Equal rectifiers in series' },
  ];
}

/** Peak of the higher of two phases, in volts (V). */
export function highestPeak(parameters: Float64Array): number {
  const emf = (phase: number): number =>
    parameters[phase * perPhase + 2]! < -0.5 ? 0 : parameters[phase * perPhase]!;
  return Math.max(emf(0), emf(1));
}

/** The flat parameter list of the rectifier supply. */
export const supplyParameters: readonly DeviceParameter[] = [
  ...phaseParameters(1),
  ...phaseParameters(2),
  { name: 'hertz', unit: 'Hz', initial: 50, range: [40, 70], meaning: 'Mains frequency' },
  {
    name: 'reservoirFarads',
    unit: 'F',
    initial: 0,
    range: [0, 0.1],
    meaning: 'Reservoir that is not an element of its own',
  },
  {
    name: 'isBridge',
    unit: '',
    initial: 0,
    range: [0, 1],
    meaning: '1 for a bridge: a rectifier sees the EMF alone in reverse',
  },
  {
    name: 'shiftVolts',
    unit: 'V',
    initial: 0,
    range: [-500, 500],
    meaning: 'Ripple correction, set by the slow loop',
  },
  {
    name: 'startVolts',
    unit: 'V',
    initial: 0,
    range: [-5000, 5000],
    meaning: 'Voltage at the zero of the EMF, set by the slow loop',
  },
  {
    name: 'loadSiemens',
    unit: 'S',
    initial: 0,
    range: [-100, 100],
    meaning: 'Load at the ripple frequency, set by the slow loop',
  },
  {
    name: 'totalFarads',
    unit: 'F',
    initial: 0,
    range: [-1, 1],
    meaning: 'Capacitance at the ripple frequency, set by the slow loop',
  },
  {
    name: 'lateSiemens',
    unit: 'S',
    initial: 0,
    range: [-100, 100],
    meaning: 'Late branch of the load, set by the slow loop',
  },
  {
    name: 'lateSeconds',
    unit: 's',
    initial: 0,
    range: [0, 1000],
    meaning: 'Time constant of the late branch, set by the slow loop',
  },
  {
    name: 'rippleState',
    unit: '',
    initial: 0,
    range: [0, 3],
    meaning: '1 ripple found, 2 not found, 3 no ripple; set by the slow loop',
  },
  {
    name: 'sagVolts',
    unit: 'V',
    initial: 0,
    range: [-500, 500],
    meaning: 'What the pulses of other supplies on the transformer take off the mean',
  },
];
