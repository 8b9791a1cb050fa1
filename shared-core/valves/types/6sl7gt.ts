import { plainHeater, twoTriodes } from '../build-type.ts';
import { american, memory, refit, reproduced, unverified, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const parameters = {
  mu: 70.03,
  ex: 1.076,
  kg1: 1322.1,
  kp: 686.77,
  kvb: 3328,
  vct: -0.164,
  gasRatio: 1e-5,
};
const parameterSource = `${refit}; gas: healthy valve, common practice, no source`;
const warmth = { source: memory(american), warmUpSeconds: 15, warmUpSource: warmUpPractice };

export const type6sl7gt: ValveType = {
  name: '6SL7GT',
  synonyms: ['6SL7'],
  title: 'double triode, high amplification',
  base: 'octal',
  sections: twoTriodes([5, 4, 6], [2, 1, 3], parameters, parameterSource),
  otherPins: [],
  pinSource: memory(american),
  heater: plainHeater([7, 8], 6.3, 0.3, warmth),
  ratings: [
    ...ratings('design-centre', memory(american), {
      anodeVolts: 300,
      anodeWatts: 1,
      heaterCathodeVolts: 90,
    }),
    ...ratings('design-centre', unverified(american), {
      gridOhmsFixedBias: 0.5e6,
      gridOhmsCathodeBias: 1e6,
    }),
  ],
  characteristics: [
    {
      anodeVolts: 250,
      gridVolts: -2,
      anodeAmps: 2.3e-3,
      transconductance: 1.6e-3,
      mu: 70,
      anodeOhms: 44e3,
      source: reproduced(american),
    },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'amplifier, 100 V to 300 V',
      anodeVolts: [100, 300],
      gridVolts: [-3.5, -0.7],
      anodeAmps: [0.3e-3, 4e-3],
      relativeSigma: 0.08,
      muRelativeSigma: 0.07,
      source: '−1 % at 250 V −2 V; chart gains +4 to +10 %',
    },
  ],
  rectifier: null,
};

/** The loctal 6SL7: the same valve on another base, which needs an adapter. */
export const type7f7: ValveType = {
  ...type6sl7gt,
  name: '7F7',
  synonyms: [],
  title: 'double triode, high amplification, loctal base',
  base: 'loctal',
  sections: twoTriodes([6, 5, 7], [3, 4, 2], parameters, `${parameterSource}; the loctal 6SL7`),
  pinSource: unverified('basing 8AC'),
  heater: plainHeater([1, 8], 6.3, 0.3, { ...warmth, source: unverified(american) }),
};
