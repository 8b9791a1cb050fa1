import { otherPins, plainHeater } from '../build-type.ts';
import { american, memory, read, refit, reproduced, usualSpread, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';

const published = reproduced(american);

export const type6l6gc: ValveType = {
  name: '6L6GC',
  synonyms: ['6L6'],
  title: 'output beam tetrode',
  base: 'octal',
  sections: [
    {
      name: '',
      device: 'pentode',
      pins: { anode: 3, screen: 4, grid: 5, cathode: 8 },
      parameters: { mu: 8.702, ex: 1.357, kg1: 1644.5, kp: 41.58, kvb: 19.4, kg2: 17395, gasRatio: 2e-6 },
      parameterSource: `${refit}; gas: healthy valve, common practice, no source`,
    },
  ],
  otherPins: otherPins('free', 1, 6),
  pinSource: memory(american),
  heater: plainHeater([2, 7], 6.3, 0.9, {
    source: memory(american),
    warmUpSeconds: 20,
    warmUpSource: warmUpPractice,
  }),
  ratings: [
    ...ratings('design-maximum', read('header of a published model'), {
      anodeVolts: 500,
      anodeWatts: 30,
      screenVolts: 450,
      screenWatts: 5,
    }),
    ...ratings('design-maximum', memory(american), {
      heaterCathodeVolts: 200,
      gridOhmsFixedBias: 0.1e6,
      gridOhmsCathodeBias: 0.5e6,
    }),
  ],
  characteristics: [
    {
      anodeVolts: 250,
      screenVolts: 250,
      gridVolts: -14,
      anodeAmps: 72e-3,
      screenAmps: 5e-3,
      transconductance: 6e-3,
      anodeOhms: 22.5e3,
      source: published,
    },
  ],
  operations: [
    {
      anodeVolts: 250,
      screenVolts: 250,
      measured: 'to cathode',
      bias: { kind: 'grid', volts: -14 },
      anodeAmps: 72e-3,
      screenAmps: 5e-3,
      load: { valves: 1, ohms: 2500, watts: 6.5 },
      limit: 0.1,
      source: published,
    },
    {
      anodeVolts: 360,
      screenVolts: 270,
      measured: 'to cathode',
      bias: { kind: 'grid', volts: -22.5 },
      anodeAmps: 44e-3,
      screenAmps: 2.5e-3,
      load: { valves: 2, ohms: 6600, watts: 26.5 },
      limit: 0.1,
      source: `${published}; push-pull, per valve`,
    },
    {
      anodeVolts: 450,
      screenVolts: 400,
      measured: 'to cathode',
      bias: { kind: 'grid', volts: -37 },
      anodeAmps: 58e-3,
      screenAmps: 2.8e-3,
      load: { valves: 2, ohms: 5600, watts: 55 },
      limit: 0.1,
      source: `${published}; push-pull, per valve`,
    },
    {
      anodeVolts: 250,
      measured: 'to cathode',
      bias: { kind: 'grid', volts: -20 },
      anodeAmps: 40e-3,
      transconductance: 4.7e-3,
      mu: 8,
      anodeOhms: 1.7e3,
      load: { valves: 1, ohms: 5000, watts: 1.4 },
      limit: 0.1,
      source: `${published}; screen joined to the anode`,
    },
    {
      anodeVolts: 250,
      measured: 'to cathode',
      bias: { kind: 'cathode', ohms: 490 },
      anodeAmps: 40e-3,
      limit: 0.1,
      source: `${published}; screen joined to the anode`,
    },
  ],
  charts: [],
  spread: usualSpread,
  modelRegions: [
    {
      what: 'class A and AB at rest',
      anodeVolts: [200, 460],
      screenVolts: [200, 410],
      gridVolts: [-40, -10],
      anodeAmps: [20e-3, 90e-3],
      relativeSigma: 0.05,
      screenRelativeSigma: 0.2,
      source: '+2 % at 250 V; other published rest points within 10 %, screen up to +29 %',
    },
  ],
  rectifier: null,
};
