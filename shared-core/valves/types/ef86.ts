import { plainHeater } from '../build-type.ts';
import { european, memory, pinLibrary, refit, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

export const ef86: ValveType = {
  name: 'EF86',
  synonyms: ['6267'],
  title: 'low-noise pentode',
  base: 'B9A',
  sections: [
    {
      name: '',
      device: 'pentode',
      pins: { anode: 6, screen: 1, grid: 9, cathode: 3 },
      parameters: {
        mu: 36.33,
        ex: 1.175,
        kg1: 1919.1,
        kp: 357.1,
        kvb: 4.7,
        kg2: 6043,
        gridOhms: 2000,
        gasRatio: 1e-5,
      },
      parameterSource: `${refit}; gas: healthy valve, common practice, no source`,
    },
  ],
  otherPins: [
    { pin: 2, role: 'shield', joinTo: null },
    { pin: 7, role: 'shield', joinTo: null },
    { pin: 8, role: 'suppressor grid', joinTo: 3 },
  ],
  joinedPins: [[2, 7]],
  pinSource: pinLibrary,
  heater: plainHeater([4, 5], 6.3, 0.2, {
    source: pinLibrary,
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings(
    'design-centre',
    memory(`${european}; cathode positive to heater; 10 MΩ below 0.2 W of anode dissipation`),
    {
      anodeVolts: 300,
      anodeWatts: 1,
      cathodeAmps: 6e-3,
      screenVolts: 200,
      screenWatts: 0.2,
      heaterCathodeVolts: 100,
      gridOhmsCathodeBias: 3e6,
    },
  ),
  characteristics: [
    {
      anodeVolts: 250,
      screenVolts: 140,
      gridVolts: -2.2,
      anodeAmps: 3e-3,
      screenAmps: 0.6e-3,
      transconductance: 2e-3,
      screenMu: 38,
      anodeOhms: 2.5e6,
      source: reproduced(european),
    },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'near the one published point',
      anodeVolts: [100, 300],
      screenVolts: [100, 180],
      gridVolts: [-3, -1.2],
      anodeAmps: [1.5e-3, 5e-3],
      relativeSigma: 0.1,
      screenRelativeSigma: 0.1,
      source: '−2 % at 250 V alone; the width is common practice, no source',
    },
  ],
  rectifier: null,
};
