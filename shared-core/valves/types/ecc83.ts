import {
  european,
  malcolmBrown,
  memory,
  pinLibrary,
  rcaCharts,
  read,
  usualSpread,
  warmUpPractice,
} from '../sources.ts';
import { ratings, type ChartRow, type ValveType } from '../valve-type.ts';

const parameters = { mu: 98.11, ex: 1.459, kg1: 1734.7, kp: 754.39, kvb: 119.9, vct: 0.5, gasRatio: 1e-5 };
const parameterSource = `${malcolmBrown('Mullard 1970')}; gas: healthy valve, common practice, no source`;

const charts: readonly ChartRow[] = (
  [
    [100e3, 100e3, 1300, 45],
    [100e3, 220e3, 1500, 52],
    [100e3, 470e3, 1700, 57],
    [220e3, 220e3, 2200, 59],
    [220e3, 470e3, 2800, 65],
    [220e3, 1e6, 3100, 68],
    [470e3, 470e3, 4300, 69],
    [470e3, 1e6, 5200, 73],
    [470e3, 2.2e6, 5900, 75],
  ] as const
).map(([anodeOhms, gridOhms, cathodeOhms, gain]) => ({
  supplyVolts: 300,
  anodeOhms,
  gridOhms,
  cathodeOhms,
  gain,
  limit: 0.06,
  source: rcaCharts,
}));

export const ecc83: ValveType = {
  name: 'ECC83',
  synonyms: ['12AX7', '12AX7A', '7025'],
  title: 'double triode, high amplification',
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
    ...ratings('design-centre', read('data sheet'), {
      anodeVolts: 300,
      anodeWatts: 1.0,
      heaterCathodeVolts: 180,
    }),
    ...ratings('design-centre', memory(european), { cathodeAmps: 8e-3, gridOhmsCathodeBias: 2e6 }),
    ...ratings('design-maximum', memory(european), { anodeVolts: 330, anodeWatts: 1.2 }),
  ],
  characteristics: [
    {
      anodeVolts: 250,
      gridVolts: -2,
      anodeAmps: 1.2e-3,
      transconductance: 1.6e-3,
      mu: 100,
      anodeOhms: 62.5e3,
      source: read('data sheet'),
    },
    {
      anodeVolts: 100,
      gridVolts: -1,
      anodeAmps: 0.5e-3,
      transconductance: 1.25e-3,
      mu: 100,
      anodeOhms: 80e3,
      source: read('data sheet'),
    },
  ],
  operations: [],
  charts,
  spread: usualSpread,
  modelRegions: [
    {
      what: 'amplifier, 120 V to 300 V',
      anodeVolts: [120, 300],
      gridVolts: [-4, -0.4],
      anodeAmps: [0.15e-3, 3e-3],
      relativeSigma: 0.05,
      source: '+5 % at 250 V −2 V; chart gains within 5 %',
    },
    {
      what: 'amplifier, 90 V to 120 V',
      anodeVolts: [90, 120],
      gridVolts: [-1.5, -0.4],
      anodeAmps: [0.15e-3, 3e-3],
      relativeSigma: 0.1,
      source: '−10 % at 100 V −1 V',
    },
  ],
  rectifier: null,
};
