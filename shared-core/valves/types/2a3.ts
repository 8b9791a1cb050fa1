import { filament } from '../build-type.ts';
import { american, memory, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { filamentMiddle, ratings, type ValveType } from '../valve-type.ts';

const published = reproduced(american);

/** Directly heated: the filament is the cathode. */
export const type2a3: ValveType = {
  name: '2A3',
  synonyms: [],
  title: 'power triode, directly heated',
  base: 'UX4',
  sections: [
    {
      name: '',
      device: 'triode',
      pins: { anode: 2, grid: 3, cathode: filamentMiddle },
      parameters: { mu: 4.2, ex: 1.4, kg1: 1500, kp: 60, kvb: 300, vct: 0, gasRatio: 2e-6 },
      parameterSource: 'N. L. Koren, 1996; gas: healthy valve, common practice, no source',
    },
  ],
  otherPins: [],
  pinSource: memory(american),
  heater: filament([1, 4], 2.5, 2.5, {
    source: memory(american),
    warmUpSeconds: 3,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('design-centre', memory(american), {
    anodeVolts: 300,
    anodeWatts: 15,
    gridOhmsFixedBias: 0.05e6,
    gridOhmsCathodeBias: 0.5e6,
  }),
  characteristics: [
    {
      anodeVolts: 250,
      gridVolts: -45,
      anodeAmps: 60e-3,
      transconductance: 5.25e-3,
      mu: 4.2,
      anodeOhms: 800,
      source: `${published}; grid voltage to the middle of the filament`,
    },
  ],
  operations: [
    {
      anodeVolts: 250,
      measured: 'to cathode',
      bias: { kind: 'cathode', ohms: 750 },
      anodeAmps: 60e-3,
      load: { valves: 1, ohms: 2500, watts: 3.5 },
      limit: 0.1,
      source: published,
    },
    {
      anodeVolts: 300,
      measured: 'to cathode',
      bias: { kind: 'grid', volts: -60 },
      anodeAmps: 40e-3,
      load: { valves: 2, ohms: 3000, watts: 15 },
      limit: 0.1,
      source: `${published}; push-pull, fixed bias, per valve; −62 V with AC on the filament`,
    },
    {
      anodeVolts: 300,
      measured: 'to cathode',
      bias: { kind: 'cathode', ohms: 1500 },
      anodeAmps: 40e-3,
      load: { valves: 2, ohms: 5000, watts: 10 },
      limit: 0.1,
      source: `${published}; push-pull with 750 Ω for both valves`,
    },
  ],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'class A and AB at rest',
      anodeVolts: [200, 320],
      gridVolts: [-65, -30],
      anodeAmps: [25e-3, 75e-3],
      relativeSigma: 0.06,
      source: '−4 % at 250 V −45 V, +8 % at 300 V −60 V',
    },
  ],
  rectifier: null,
};
