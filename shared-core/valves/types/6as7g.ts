import { plainHeater, twoTriodes } from '../build-type.ts';
import { american, memory, refit, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

/** Each grid wants a stopper of 1 kΩ; its low amplification makes fixed bias run away. */
export const type6as7g: ValveType = {
  name: '6AS7G',
  synonyms: ['6AS7', '6AS7GA', '6080'],
  title: 'double power triode, very low amplification',
  base: 'octal',
  sections: twoTriodes(
    [5, 4, 6],
    [2, 1, 3],
    { mu: 2.018, ex: 1.198, kg1: 587.25, kp: 16.619, kvb: 1, vct: -0.6, gasRatio: 2e-6 },
    `${refit}; gas: healthy valve, common practice, no source`,
  ),
  otherPins: [],
  pinSource: memory(american),
  heater: plainHeater([7, 8], 6.3, 2.5, {
    source: memory(american),
    warmUpSeconds: 20,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('design-centre', memory(american), {
    anodeVolts: 250,
    anodeWatts: 13,
    cathodeAmps: 125e-3,
    heaterCathodeVolts: 300,
    gridOhmsCathodeBias: 1e6,
  }),
  characteristics: [
    {
      anodeVolts: 103.75,
      gridVolts: -31.25,
      anodeAmps: 125e-3,
      transconductance: 7e-3,
      mu: 2,
      anodeOhms: 280,
      source: reproduced(`${american}; supply 135 V less the 31.25 V of its cathode resistor`),
    },
  ],
  operations: [
    {
      anodeVolts: 135,
      measured: 'to chassis',
      bias: { kind: 'cathode', ohms: 250 },
      anodeAmps: 125e-3,
      limit: 0.1,
      source: reproduced(`${american}; 135 V is the supply, not the voltage across the valve`),
    },
  ],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'near the one published point',
      anodeVolts: [60, 150],
      gridVolts: [-70, -10],
      anodeAmps: [40e-3, 130e-3],
      relativeSigma: 0.1,
      source: '−2 % at 103.75 V −31.25 V alone; the width is common practice, no source',
    },
  ],
  rectifier: null,
};
