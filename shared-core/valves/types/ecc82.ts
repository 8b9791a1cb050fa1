import {
  american,
  malcolmBrown,
  memory,
  pinLibrary,
  rcaCharts,
  reproduced,
  usualSpread,
  warmUpPractice,
} from '../sources.ts';
import { ratings, type ChartRow, type ValveType } from '../valve-type.ts';

const parameters = { mu: 19.98, ex: 1.291, kg1: 1359.0, kp: 87.34, kvb: 300, vct: 0, gasRatio: 1e-5 };
const parameterSource = `${malcolmBrown('Mullard 1969')}; gas: healthy valve, common practice, no source`;

const charts: readonly ChartRow[] = (
  [
    [47e3, 47e3, 870, 12],
    [47e3, 100e3, 1200, 12],
    [100e3, 100e3, 1900, 12],
    [100e3, 220e3, 3000, 12],
    [220e3, 220e3, 5300, 12],
  ] as const
).map(([anodeOhms, gridOhms, cathodeOhms, gain]) => ({
  supplyVolts: 300,
  anodeOhms,
  gridOhms,
  cathodeOhms,
  gain,
  limit: 0.15,
  source: `${rcaCharts}; gains are printed without a decimal, hence the wider limit`,
}));

export const ecc82: ValveType = {
  name: 'ECC82',
  synonyms: ['12AU7', '12AU7A'],
  title: 'double triode, medium amplification',
  base: 'B9A',
  sections: [
    {
      name: '1',
      device: 'triode',
      pins: { anode: 6, grid: 7, cathode: 8 },
      parameters,
      parameterSource,
    },
    {
      name: '2',
      device: 'triode',
      pins: { anode: 1, grid: 2, cathode: 3 },
      parameters,
      parameterSource,
    },
  ],
  otherPins: [],
  pinSource: pinLibrary,
  heater: {
    heating: 'indirect',
    elements: [
      { pins: [4, 9], volts: 6.3, amps: 0.15 },
      { pins: [5, 9], volts: 6.3, amps: 0.15 },
    ],
    hookups: [
      { name: 'series', volts: 12.6, amps: 0.15, sides: [[4], [5]] },
      { name: 'parallel', volts: 6.3, amps: 0.3, sides: [[4, 5], [9]] },
    ],
    source: pinLibrary,
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  },
  ratings: [
    ...ratings('design-centre', memory(american), {
      anodeVolts: 300,
      anodeWatts: 2.75,
      cathodeAmps: 20e-3,
      heaterCathodeVolts: 180,
      gridOhmsFixedBias: 0.25e6,
      gridOhmsCathodeBias: 1e6,
    }),
    ...ratings('design-maximum', memory(american), { anodeVolts: 330 }),
  ],
  characteristics: [
    {
      anodeVolts: 250,
      gridVolts: -8.5,
      anodeAmps: 10.5e-3,
      transconductance: 2.2e-3,
      mu: 17,
      anodeOhms: 7.7e3,
      source: reproduced(american),
    },
    {
      anodeVolts: 100,
      gridVolts: 0,
      anodeAmps: 11.8e-3,
      transconductance: 3.1e-3,
      mu: 19.5,
      anodeOhms: 6.25e3,
      source: reproduced(american),
    },
  ],
  operations: [],
  charts,
  spread: usualSpread,
  modelRegions: [
    {
      what: 'amplifier, 80 V to 300 V',
      anodeVolts: [80, 300],
      gridVolts: [-12, -0.4],
      anodeAmps: [0.4e-3, 20e-3],
      relativeSigma: 0.05,
      muRelativeSigma: 0.1,
      source: '+2 % at 250 V −8.5 V, 0 % at 100 V 0 V; chart gains +7 to +13 %',
    },
  ],
  rectifier: null,
};
