import {
  european,
  memory,
  perveances,
  reproduced,
  unverified,
  usualSpread,
  warmUpPractice,
} from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const section = {
  device: 'rectifier-valve',
  parameters: { perveance: 0.729e-3 },
  parameterSource: perveances,
} as const;

export const ez80: ValveType = {
  name: 'EZ80',
  synonyms: ['6V4'],
  title: 'full-wave rectifier',
  base: 'B9A',
  sections: [
    { ...section, name: '1', pins: { anode: 1, cathode: 3 } },
    { ...section, name: '2', pins: { anode: 7, cathode: 3 } },
  ],
  otherPins: [
    { pin: 2, role: 'internal', joinTo: null },
    { pin: 6, role: 'internal', joinTo: null },
    { pin: 8, role: 'internal', joinTo: null },
    { pin: 9, role: 'internal', joinTo: null },
  ],
  pinSource: `${memory(european)}; unused pins ${unverified('as internal connections')}`,
  heater: {
    heating: 'indirect',
    elements: [{ pins: [4, 5], volts: 6.3, amps: 0.6 }],
    hookups: [{ name: 'only', volts: 6.3, amps: 0.6, sides: [[4], [5]] }],
    source: memory(european),
    warmUpSeconds: 20,
    warmUpSource: warmUpPractice,
  },
  ratings: ratings('design-centre', memory(`${european}; basis from memory`), {
    inversePeakVolts: 1000,
    peakAnodeAmps: 270e-3,
    dcAmps: 90e-3,
    heaterCathodeVolts: 500,
  }),
  characteristics: [],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'up to the peak current',
      anodeVolts: [0, 60],
      anodeAmps: [0, 270e-3],
      relativeSigma: 0.1,
      source: 'published output 310 V at 300 V, 90 mA reproduced as 306 V; no published drop to compare with',
    },
  ],
  rectifier: {
    supplies: [
      { windingVolts: 250, dcAmps: 90e-3, anodeOhms: 125 },
      { windingVolts: 300, dcAmps: 90e-3, anodeOhms: 215 },
      { windingVolts: 350, dcAmps: 90e-3, anodeOhms: 300 },
    ],
    maxReservoirFarads: 50e-6,
    operations: [
      { windingVolts: 300, anodeOhms: 215, farads: 50e-6, dcAmps: 90e-3, hertz: 50, dcVolts: 310 },
    ],
    source: reproduced(european),
  },
};
