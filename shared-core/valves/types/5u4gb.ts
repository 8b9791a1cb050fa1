import { otherPins } from '../build-type.ts';
import { american, memory, perveances, read, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const section = {
  device: 'rectifier-valve',
  parameters: { perveance: 0.755e-3 },
  parameterSource: `${perveances}; the set of 50 V at 275 mA, which also meets 44 V at 225 mA`,
} as const;

export const type5u4gb: ValveType = {
  name: '5U4GB',
  synonyms: ['5U4'],
  title: 'full-wave rectifier, directly heated',
  base: 'octal',
  sections: [
    { ...section, name: '1', pins: { anode: 4, cathode: 8 } },
    { ...section, name: '2', pins: { anode: 6, cathode: 8 } },
  ],
  otherPins: [...otherPins('free', 1), ...otherPins('absent', 3, 5, 7)],
  pinSource: memory(american),
  heater: {
    heating: 'direct',
    elements: [{ pins: [2, 8], volts: 5, amps: 3 }],
    hookups: [{ name: 'only', volts: 5, amps: 3, sides: [[2], [8]] }],
    source: memory(american),
    warmUpSeconds: 3,
    warmUpSource: warmUpPractice,
  },
  ratings: [
    ...ratings('design-centre', read('maker’s data book; basis from memory'), {
      inversePeakVolts: 1550,
      peakAnodeAmps: 1,
    }),
    ...ratings('design-centre', memory(american), { dcAmps: 300e-3 }),
  ],
  characteristics: [
    { anodeVolts: 50, gridVolts: 0, anodeAmps: 275e-3, source: reproduced(american) },
    { anodeVolts: 44, gridVolts: 0, anodeAmps: 225e-3, source: reproduced(american) },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'up to the peak current',
      anodeVolts: [0, 120],
      anodeAmps: [0, 1],
      relativeSigma: 0.05,
      source: 'the two published drops reproduced within 2 %; published outputs within 1 %',
    },
  ],
  rectifier: {
    supplies: [
      { windingVolts: 300, dcAmps: 300e-3, anodeOhms: 21 },
      { windingVolts: 450, dcAmps: 275e-3, anodeOhms: 67 },
      { windingVolts: 550, dcAmps: 162e-3, anodeOhms: 97 },
    ],
    maxReservoirFarads: 40e-6,
    operations: [
      { windingVolts: 450, anodeOhms: 67, farads: 40e-6, dcAmps: 275e-3, hertz: 60, dcVolts: 460 },
      { windingVolts: 450, anodeOhms: 67, farads: 40e-6, dcAmps: 137.5e-3, hertz: 60, dcVolts: 520 },
    ],
    source: reproduced(american),
  },
};
