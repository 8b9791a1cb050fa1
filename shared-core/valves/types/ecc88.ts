import { otherPins, plainHeater, twoTriodes } from '../build-type.ts';
import { european, memory, pinLibrary, refit, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const warmth = {
  source: memory(european),
  warmUpSeconds: 15,
  warmUpSource: warmUpPractice,
};

export const ecc88: ValveType = {
  name: 'ECC88',
  synonyms: ['6DJ8'],
  title: 'double triode, frame grid, high slope',
  base: 'B9A',
  sections: twoTriodes(
    [1, 2, 3],
    [6, 7, 8],
    { mu: 33.55, ex: 1.489, kg1: 305.95, kp: 193.1, kvb: 3.518, vct: 0.356, gasRatio: 1e-5 },
    `${refit}; gas: healthy valve, common practice, no source`,
  ),
  otherPins: otherPins('shield', 9),
  pinSource: pinLibrary,
  heater: plainHeater([4, 5], 6.3, 0.365, warmth),
  ratings: ratings('design-centre', memory(`${european}; cathode positive to heater`), {
    anodeVolts: 130,
    anodeWatts: 1.8,
    cathodeAmps: 25e-3,
    heaterCathodeVolts: 150,
    gridOhmsCathodeBias: 1e6,
  }),
  characteristics: [
    {
      anodeVolts: 90,
      gridVolts: -1.3,
      anodeAmps: 15e-3,
      transconductance: 12.5e-3,
      mu: 33,
      anodeOhms: 2.64e3,
      source: reproduced(european),
    },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'amplifier, near the one published point',
      anodeVolts: [70, 120],
      gridVolts: [-2.5, -0.5],
      anodeAmps: [7e-3, 22e-3],
      relativeSigma: 0.08,
      source: 'fitted to 90 V −1.3 V alone; the width is common practice, no source',
    },
  ],
  rectifier: null,
};

/** The long-life version: lighter heater, other limits, the same pins and curves. */
export const e88cc: ValveType = {
  ...ecc88,
  name: 'E88CC',
  synonyms: ['6922'],
  title: 'double triode, frame grid, high slope, long life',
  heater: plainHeater([4, 5], 6.3, 0.3, warmth),
  ratings: ratings('design-centre', memory(`${european}; cathode positive to heater`), {
    anodeVolts: 220,
    anodeWatts: 1.5,
    cathodeAmps: 20e-3,
    heaterCathodeVolts: 150,
    gridOhmsCathodeBias: 1e6,
  }),
};
