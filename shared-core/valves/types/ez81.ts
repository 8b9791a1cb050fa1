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
  parameters: { perveance: 1.7085e-3 },
  parameterSource: perveances,
} as const;

export const ez81: ValveType = {
  name: 'EZ81',
  synonyms: ['6CA4'],
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
    elements: [{ pins: [4, 5], volts: 6.3, amps: 1.0 }],
    hookups: [{ name: 'only', volts: 6.3, amps: 1.0, sides: [[4], [5]] }],
    source: memory(european),
    warmUpSeconds: 20,
    warmUpSource: warmUpPractice,
  },
  ratings: ratings('design-centre', memory(`${european}; lower of the figures quoted; basis from memory`), {
    inversePeakVolts: 1000,
    peakAnodeAmps: 450e-3,
    dcAmps: 150e-3,
    heaterCathodeVolts: 500,
  }),
  characteristics: [{ anodeVolts: 20, gridVolts: 0, anodeAmps: 150e-3, source: reproduced(european) }],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'up to the peak current',
      anodeVolts: [0, 50],
      anodeAmps: [0, 500e-3],
      relativeSigma: 0.05,
      source: '20 V at 150 mA reproduced as 19.8 V; published outputs within 1 %',
    },
  ],
  rectifier: {
    supplies: [
      { windingVolts: 250, dcAmps: 150e-3, anodeOhms: 150 },
      { windingVolts: 300, dcAmps: 150e-3, anodeOhms: 190 },
      { windingVolts: 350, dcAmps: 150e-3, anodeOhms: 230 },
    ],
    maxReservoirFarads: 50e-6,
    operations: [
      { windingVolts: 250, anodeOhms: 150, farads: 50e-6, dcAmps: 150e-3, hertz: 50, dcVolts: 245 },
      { windingVolts: 350, anodeOhms: 230, farads: 50e-6, dcAmps: 150e-3, hertz: 50, dcVolts: 347 },
    ],
    source: reproduced(european),
  },
};
