import {
  american,
  european,
  malcolmBrown,
  memory,
  pinLibrary,
  reproduced,
  usualSpread,
  warmUpPractice,
} from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const parameters = { mu: 77.09, ex: 1.077, kg1: 320.1, kp: 231.05, kvb: 300, vct: 0, gasRatio: 1e-5 };
const parameterSource = `${malcolmBrown('Mullard 1969')}; gas: healthy valve, common practice, no source`;

export const ecc81: ValveType = {
  name: 'ECC81',
  synonyms: ['12AT7'],
  title: 'double triode, high slope',
  base: 'B9A',
  sections: [
    {
      name: '1',
      device: 'triode',
      pins: { anode: 6, grid: 7, cathode: 8 },
      parameters,
      parameterSource,
    },
    {
      name: '2',
      device: 'triode',
      pins: { anode: 1, grid: 2, cathode: 3 },
      parameters,
      parameterSource,
    },
  ],
  otherPins: [],
  pinSource: pinLibrary,
  heater: {
    heating: 'indirect',
    elements: [
      { pins: [4, 9], volts: 6.3, amps: 0.15 },
      { pins: [5, 9], volts: 6.3, amps: 0.15 },
    ],
    hookups: [
      { name: 'series', volts: 12.6, amps: 0.15, sides: [[4], [5]] },
      { name: 'parallel', volts: 6.3, amps: 0.3, sides: [[4, 5], [9]] },
    ],
    source: pinLibrary,
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  },
  ratings: ratings('design-centre', memory(`${american}; basis from memory`), {
    anodeVolts: 300,
    anodeWatts: 2.5,
    cathodeAmps: 15e-3,
    heaterCathodeVolts: 90,
    gridOhmsCathodeBias: 1e6,
  }),
  characteristics: [
    {
      anodeVolts: 250,
      gridVolts: -2,
      anodeAmps: 10e-3,
      transconductance: 5.5e-3,
      mu: 60,
      anodeOhms: 10.9e3,
      source: reproduced(european),
    },
    {
      anodeVolts: 200,
      gridVolts: -1,
      anodeAmps: 11.5e-3,
      transconductance: 6.7e-3,
      mu: 70,
      anodeOhms: 10.5e3,
      source: reproduced(european),
    },
    {
      anodeVolts: 170,
      gridVolts: -1,
      anodeAmps: 8.5e-3,
      transconductance: 5.9e-3,
      mu: 66,
      anodeOhms: 11e3,
      source: reproduced(european),
    },
    {
      anodeVolts: 100,
      gridVolts: -1,
      anodeAmps: 3.0e-3,
      transconductance: 3.75e-3,
      mu: 62,
      anodeOhms: 16.5e3,
      limits: {
        anodeAmps: 0.15,
        transconductance: 0.15,
        anodeOhms: null,
        why: 'the makers differ here: 3.0 mA and 16.5 kΩ (Philips), 3.7 mA and 15 kΩ (GE); the set gives 13.9 kΩ',
      },
      source: reproduced(european),
    },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'amplifier, 150 V to 300 V',
      anodeVolts: [150, 300],
      gridVolts: [-3, -0.5],
      anodeAmps: [3e-3, 15e-3],
      relativeSigma: 0.05,
      source: '0 %, −2 % and +1 % at 250 V, 200 V and 170 V',
    },
    {
      what: 'amplifier, 90 V to 150 V',
      anodeVolts: [90, 150],
      gridVolts: [-1.5, -0.5],
      anodeAmps: [1e-3, 10e-3],
      relativeSigma: 0.15,
      source: '−5 % (Philips) and −23 % (GE) at 100 V −1 V',
    },
  ],
  rectifier: null,
};
