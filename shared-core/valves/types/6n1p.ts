import { otherPins, plainHeater, twoTriodes } from '../build-type.ts';
import { memory, refit, soviet, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

/** Heater between 4 and 5, shield on 9: it must never go into a socket wired 4+5 and 9. */
export const type6n1p: ValveType = {
  name: '6N1P',
  synonyms: ['6Н1П'],
  title: 'double triode, medium amplification',
  base: 'B9A',
  sections: twoTriodes(
    [1, 2, 3],
    [6, 7, 8],
    { mu: 38.03, ex: 1.4, kg1: 793.66, kp: 254.88, kvb: 300, vct: 0, gasRatio: 1e-5 },
    `${refit}, one point; gas: healthy valve, common practice, no source`,
  ),
  otherPins: otherPins('shield', 9),
  pinSource: memory(soviet),
  heater: plainHeater([4, 5], 6.3, 0.6, {
    source: memory(soviet),
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('absolute', memory(`${soviet}; basis from memory`), {
    anodeVolts: 300,
    anodeWatts: 2.2,
    cathodeAmps: 25e-3,
    heaterCathodeVolts: 250,
    gridOhmsCathodeBias: 1e6,
  }),
  characteristics: [
    {
      anodeVolts: 250,
      gridVolts: -4.5,
      anodeAmps: 7.5e-3,
      transconductance: 4.35e-3,
      mu: 35,
      anodeOhms: 8e3,
      source: memory(`${soviet}; cathode resistor 600 Ω`),
    },
  ],
  operations: [],
  charts: [],
  spread: { low: -0.2, high: 0.2, source: memory(`${soviet}: ±20 %`) },
  modelRegions: [
    {
      what: 'amplifier, near the one published point',
      anodeVolts: [150, 300],
      gridVolts: [-6, -1],
      anodeAmps: [3e-3, 14e-3],
      relativeSigma: 0.08,
      source: 'fitted to 250 V −4.5 V alone; the width is common practice, no source',
    },
  ],
  rectifier: null,
};
