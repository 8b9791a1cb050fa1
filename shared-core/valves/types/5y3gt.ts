import { american, memory, perveances, read, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const section = {
  device: 'rectifier-valve',
  parameters: { perveance: 0.352e-3 },
  parameterSource: `${perveances}; the set from RCA, which reproduces the published outputs`,
} as const;

export const type5y3gt: ValveType = {
  name: '5Y3GT',
  synonyms: ['5Y3'],
  title: 'full-wave rectifier, directly heated',
  base: 'octal',
  sections: [
    { ...section, name: '1', pins: { anode: 4, cathode: 8 } },
    { ...section, name: '2', pins: { anode: 6, cathode: 8 } },
  ],
  otherPins: [
    { pin: 1, role: 'free', joinTo: null },
    { pin: 3, role: 'absent', joinTo: null },
    { pin: 5, role: 'absent', joinTo: null },
    { pin: 7, role: 'absent', joinTo: null },
  ],
  pinSource: memory(american),
  heater: {
    heating: 'direct',
    elements: [{ pins: [2, 8], volts: 5, amps: 2 }],
    hookups: [{ name: 'only', volts: 5, amps: 2, sides: [[2], [8]] }],
    source: memory(american),
    warmUpSeconds: 3,
    warmUpSource: warmUpPractice,
  },
  ratings: [
    ...ratings('design-centre', read('maker’s data book; basis from memory'), {
      inversePeakVolts: 1400,
      peakAnodeAmps: 400e-3,
    }),
    ...ratings('design-centre', memory(american), { dcAmps: 125e-3 }),
  ],
  characteristics: [{ anodeVolts: 50, gridVolts: 0, anodeAmps: 125e-3, source: reproduced('RCA') }],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'up to the peak current',
      anodeVolts: [0, 120],
      anodeAmps: [0, 400e-3],
      relativeSigma: 0.13,
      source: 'half the difference between the two published drops, 60 V (GE) and 50 V (RCA) at 125 mA',
    },
  ],
  rectifier: {
    supplies: [{ windingVolts: 350, dcAmps: 125e-3, anodeOhms: 50 }],
    maxReservoirFarads: 20e-6,
    operations: [
      { windingVolts: 350, anodeOhms: 50, farads: 20e-6, dcAmps: 125e-3, hertz: 60, dcVolts: 360 },
      { windingVolts: 350, anodeOhms: 50, farads: 20e-6, dcAmps: 62.5e-3, hertz: 60, dcVolts: 390 },
    ],
    source: reproduced(american),
  },
};
