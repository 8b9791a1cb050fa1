import { otherPins, plainHeater } from '../build-type.ts';
import { american, memory, perveances, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const section = {
  device: 'rectifier-valve',
  parameters: { perveance: 0.702e-3 },
  parameterSource: perveances,
} as const;

export const type6x4: ValveType = {
  name: '6X4',
  synonyms: ['EZ90'],
  title: 'full-wave rectifier, miniature',
  base: 'B7G',
  sections: [
    { ...section, name: '1', pins: { anode: 1, cathode: 7 } },
    { ...section, name: '2', pins: { anode: 6, cathode: 7 } },
  ],
  otherPins: otherPins('internal', 2, 5),
  pinSource: memory(american),
  heater: plainHeater([3, 4], 6.3, 0.6, {
    source: memory(american),
    warmUpSeconds: 20,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('design-centre', memory(`${american}; basis from memory`), {
    inversePeakVolts: 1250,
    peakAnodeAmps: 210e-3,
    dcAmps: 70e-3,
    heaterCathodeVolts: 450,
  }),
  characteristics: [{ anodeVolts: 22, gridVolts: 0, anodeAmps: 70e-3, source: reproduced(american) }],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'up to the peak current',
      anodeVolts: [0, 60],
      anodeAmps: [0, 210e-3],
      relativeSigma: 0.08,
      source: '22 V at 70 mA reproduced as 21.5 V; no published output to compare with',
    },
  ],
  rectifier: {
    supplies: [{ windingVolts: 325, dcAmps: 70e-3, anodeOhms: 520 }],
    maxReservoirFarads: 10e-6,
    operations: [],
    source: reproduced(american),
  },
};
