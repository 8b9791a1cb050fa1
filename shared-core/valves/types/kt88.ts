import { otherPins, plainHeater } from '../build-type.ts';
import { gec, memory, refit, reproduced, unverified, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

export const kt88: ValveType = {
  name: 'KT88',
  synonyms: [],
  title: 'output beam tetrode, large',
  base: 'octal',
  sections: [
    {
      name: '',
      device: 'pentode',
      pins: { anode: 3, screen: 4, grid: 5, cathode: 8 },
      parameters: { mu: 12.4, ex: 1.335, kg1: 454.16, kp: 23.13, kvb: 36.5, kg2: 14558, gasRatio: 2e-6 },
      parameterSource: `${refit}; gas: healthy valve, common practice, no source`,
    },
  ],
  // The metal shell of the base; joined to the cathode it cannot float.
  otherPins: [{ pin: 1, role: 'shield', joinTo: 8 }, ...otherPins('free', 6)],
  pinSource: memory(gec),
  heater: plainHeater([2, 7], 6.3, 1.6, {
    source: memory(gec),
    warmUpSeconds: 20,
    warmUpSource: warmUpPractice,
  }),
  ratings: [
    ...ratings('design-maximum', memory(gec), {
      anodeVolts: 800,
      anodeWatts: 42,
      anodeAndScreenWatts: 46,
      cathodeAmps: 230e-3,
      screenVolts: 600,
      screenWatts: 8,
      heaterCathodeVolts: 200,
    }),
    ...ratings('design-centre', memory(gec), { anodeWatts: 35, anodeAndScreenWatts: 40, screenWatts: 6 }),
    ...ratings('design-maximum', unverified(`${gec}; up to 35 W`), {
      gridOhmsFixedBias: 220e3,
      gridOhmsCathodeBias: 470e3,
    }),
  ],
  characteristics: [
    {
      anodeVolts: 250,
      screenVolts: 250,
      gridVolts: -15,
      anodeAmps: 140e-3,
      screenAmps: 3e-3,
      transconductance: 11.5e-3,
      screenMu: 8,
      anodeOhms: 12e3,
      limits: { screenAmps: null, why: 'the published screen current is from memory, to be verified' },
      source: reproduced(`${gec}; grid voltage approximate`),
    },
  ],
  operations: [],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'class A, near the one published point',
      anodeVolts: [200, 400],
      screenVolts: [200, 350],
      gridVolts: [-30, -10],
      anodeAmps: [60e-3, 180e-3],
      relativeSigma: 0.08,
      screenRelativeSigma: 0.3,
      source: '+2 % at 250 V; screen elsewhere −31 %; the width is common practice, no source',
    },
  ],
  rectifier: null,
};
