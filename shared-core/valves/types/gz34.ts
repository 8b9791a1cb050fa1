import { european, memory, perveances, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const section = {
  device: 'rectifier-valve',
  parameters: { perveance: 3.96e-3 },
  parameterSource: perveances,
} as const;

export const gz34: ValveType = {
  name: 'GZ34',
  synonyms: ['5AR4'],
  title: 'full-wave rectifier, cathode joined to the heater',
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
  pinSource: memory(european),
  heater: {
    heating: 'indirect',
    elements: [{ pins: [2, 8], volts: 5, amps: 1.9 }],
    hookups: [{ name: 'only', volts: 5, amps: 1.9, sides: [[2], [8]] }],
    source: memory(european),
    warmUpSeconds: 20,
    warmUpSource: warmUpPractice,
  },
  ratings: [
    ...ratings('design-centre', memory(european), {
      inversePeakVolts: 1500,
      peakAnodeAmps: 750e-3,
      dcAmps: 250e-3,
    }),
    ...ratings('design-maximum', memory(european), { inversePeakVolts: 1700 }),
  ],
  characteristics: [
    {
      anodeVolts: 17,
      gridVolts: 0,
      anodeAmps: 225e-3,
      limits: {
        anodeVolts: 0.15,
        why: 'G is fitted to the outputs of whole supplies, where it agrees within 2.5 %; the drop comes out 13 % low',
      },
      source: reproduced('GE Essential Characteristics'),
    },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'up to the peak current',
      anodeVolts: [0, 40],
      anodeAmps: [0, 750e-3],
      relativeSigma: 0.2,
      source: '17 V at 225 mA reproduced as 14.8 V; published outputs within 2.5 %',
    },
  ],
  rectifier: {
    supplies: [
      { windingVolts: 300, dcAmps: 250e-3, anodeOhms: 50 },
      { windingVolts: 350, dcAmps: 250e-3, anodeOhms: 75 },
      { windingVolts: 400, dcAmps: 250e-3, anodeOhms: 100 },
      { windingVolts: 450, dcAmps: 250e-3, anodeOhms: 125 },
      { windingVolts: 500, dcAmps: 200e-3, anodeOhms: 150 },
      { windingVolts: 550, dcAmps: 160e-3, anodeOhms: 175 },
    ],
    maxReservoirFarads: 60e-6,
    operations: [
      { windingVolts: 300, anodeOhms: 50, farads: 60e-6, dcAmps: 250e-3, hertz: 50, dcVolts: 330 },
      { windingVolts: 400, anodeOhms: 100, farads: 60e-6, dcAmps: 250e-3, hertz: 50, dcVolts: 430 },
      { windingVolts: 450, anodeOhms: 125, farads: 60e-6, dcAmps: 250e-3, hertz: 50, dcVolts: 480 },
    ],
    source: reproduced(european),
  },
};
