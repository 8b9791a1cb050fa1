import { otherPins, plainHeater, twoTriodes } from '../build-type.ts';
import { memory, reproduced, soviet, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

/**
 * Heater between 4 and 5, shield on 9: it must never go into a socket wired 4+5 and 9.
 *
 * Its 0.75 A is much for the base: the winding's budget comes first.
 */
export const type6n6p: ValveType = {
  name: '6N6P',
  synonyms: ['6Н6П'],
  title: 'double triode, low amplification, high current',
  base: 'B9A',
  sections: twoTriodes(
    [1, 2, 3],
    [6, 7, 8],
    { mu: 20, ex: 1.666, kg1: 709.7, kp: 85.5, kvb: 600, vct: 0.02, gasRatio: 1e-5 },
    'public SPICE collection, MU and KG1 refitted to the published point, which the set itself misses by 10 % in mu; gas: healthy valve, common practice, no source',
  ),
  otherPins: otherPins('shield', 9),
  pinSource: memory(soviet),
  heater: plainHeater([4, 5], 6.3, 0.75, {
    source: memory(soviet),
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('absolute', memory(`${soviet}; basis from memory`), {
    anodeVolts: 300,
    anodeWatts: 4.8,
    allAnodesWatts: 8,
    cathodeAmps: 45e-3,
    heaterCathodeVolts: 200,
    gridOhmsCathodeBias: 1e6,
  }),
  characteristics: [
    {
      anodeVolts: 120,
      gridVolts: -2,
      anodeAmps: 30e-3,
      transconductance: 11e-3,
      mu: 20,
      anodeOhms: 1.8e3,
      source: reproduced(soviet),
    },
  ],
  operations: [],
  charts: [],
  spread: { low: -1 / 3, high: 1 / 3, source: reproduced(`${soviet}: 30 ± 10 mA`) },
  modelRegions: [
    {
      what: 'amplifier, near the one published point',
      anodeVolts: [80, 200],
      gridVolts: [-8, -0.7],
      anodeAmps: [10e-3, 45e-3],
      relativeSigma: 0.1,
      source: 'fitted to 120 V −2 V alone, where mu is 6 % low; the width is common practice, no source',
    },
  ],
  rectifier: null,
};
