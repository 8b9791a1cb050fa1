import { tappedHeater, twoTriodes } from '../build-type.ts';
import { european, refit, reproduced, unverified, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

/** Pins of its own: heater tap on 8, the first anode on 9. In a socket wired for ECC82 voltages land wrong. */
export const e182cc: ValveType = {
  name: 'E182CC',
  synonyms: ['7119'],
  title: 'double triode, low amplification, high current',
  base: 'B9A',
  sections: twoTriodes(
    [9, 7, 6],
    [1, 2, 3],
    { mu: 24.69, ex: 1.464, kg1: 333.69, kp: 123.3, kvb: 2.146, vct: 0.512, gasRatio: 1e-5 },
    `${refit}; gas: healthy valve, common practice, no source`,
  ),
  otherPins: [],
  pinSource: unverified(european),
  heater: tappedHeater([4, 5], 8, 6.3, 0.32, {
    source: unverified(european),
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('design-centre', unverified(`${european}; grid leak 0.5 to 1 MΩ`), {
    anodeVolts: 300,
    anodeWatts: 4.5,
    allAnodesWatts: 8,
    cathodeAmps: 60e-3,
    heaterCathodeVolts: 200,
    gridOhmsCathodeBias: 0.5e6,
  }),
  characteristics: [
    {
      anodeVolts: 120,
      gridVolts: -2,
      anodeAmps: 36e-3,
      transconductance: 15e-3,
      mu: 24,
      anodeOhms: 1.6e3,
      source: reproduced(european),
    },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'amplifier, near the one published point',
      anodeVolts: [80, 170],
      gridVolts: [-5, -0.7],
      anodeAmps: [12e-3, 55e-3],
      relativeSigma: 0.1,
      source: 'fitted to 120 V −2 V alone; the width is common practice, no source',
    },
  ],
  rectifier: null,
};
