import { chartRows, plainHeater, twoTriodes } from '../build-type.ts';
import {
  american,
  malcolmBrown,
  memory,
  moderns,
  pinLibrary,
  rcaCharts,
  read,
  reproduced,
  warmUpPractice,
} from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

export const type6sn7gt: ValveType = {
  name: '6SN7GT',
  synonyms: ['6SN7'],
  title: 'double triode, medium amplification',
  base: 'octal',
  sections: twoTriodes(
    [5, 4, 6],
    [2, 1, 3],
    { mu: 21.07, ex: 1.341, kg1: 1446.2, kp: 157.81, kvb: 179.4, vct: 0, gasRatio: 1e-5 },
    `${malcolmBrown('Sylvania')}; gas: healthy valve, common practice, no source`,
  ),
  otherPins: [],
  pinSource: `${pinLibrary} (${moderns})`,
  heater: plainHeater([7, 8], 6.3, 0.6, {
    source: pinLibrary,
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('design-centre', memory(american), {
    anodeVolts: 300,
    anodeWatts: 2.5,
    cathodeAmps: 20e-3,
    heaterCathodeVolts: 90,
    gridOhmsCathodeBias: 1e6,
  }),
  characteristics: [
    {
      anodeVolts: 250,
      gridVolts: -8,
      anodeAmps: 9e-3,
      transconductance: 2.6e-3,
      mu: 20,
      anodeOhms: 7.7e3,
      source: `${reproduced(american)}; also read in an encyclopedia`,
    },
    {
      anodeVolts: 90,
      gridVolts: 0,
      anodeAmps: 10e-3,
      transconductance: 3e-3,
      mu: 20,
      anodeOhms: 6.7e3,
      source: reproduced(american),
    },
    {
      anodeVolts: 250,
      gridVolts: -12.5,
      anodeAmps: 1.3e-3,
      limits: { anodeAmps: 0.2, why: 'near cutoff, where sheets are read to no better' },
      source: reproduced(american),
    },
  ],
  operations: [],
  charts: chartRows(300, 0.06, rcaCharts, [
    [47e3, 47e3, 1300, 14],
    [47e3, 100e3, 1580, 15],
    [47e3, 220e3, 1800, 16],
    [100e3, 100e3, 2500, 16],
    [100e3, 220e3, 3130, 16],
    [100e3, 470e3, 3900, 16],
  ]),
  spread: {
    low: -0.22,
    high: 0.44,
    source: read(`${moderns}: −22 % to +44 % of 9 mA, halves up to 30 % apart`),
  },
  modelRegions: [
    {
      what: 'amplifier, 80 V to 300 V',
      anodeVolts: [80, 300],
      gridVolts: [-11, -0.5],
      anodeAmps: [1.5e-3, 16e-3],
      relativeSigma: 0.06,
      source: '−1 % at 250 V −8 V; chart gains within 6 %',
    },
    {
      what: 'near cutoff',
      anodeVolts: [150, 300],
      gridVolts: [-14, -5],
      anodeAmps: [0.5e-3, 3e-3],
      relativeSigma: 0.19,
      source: '−19 % at 250 V −12.5 V',
    },
  ],
  rectifier: null,
};

/** The later version with higher limits; GTA and GTB differ in heater warm-up only. */
export const type6sn7gtb: ValveType = {
  ...type6sn7gt,
  name: '6SN7GTB',
  synonyms: ['6SN7GTA'],
  title: 'double triode, medium amplification, higher limits',
  ratings: ratings('design-centre', memory(`${american}; 200 V peak, 100 V DC with the cathode negative`), {
    anodeVolts: 450,
    anodeWatts: 5,
    allAnodesWatts: 7.5,
    cathodeAmps: 20e-3,
    heaterCathodeVolts: 200,
    gridOhmsCathodeBias: 1e6,
  }),
};
