import { filament } from '../build-type.ts';
import {
  malcolmBrown,
  moderns,
  pinLibrary,
  read,
  reproduced,
  unverified,
  warmUpPractice,
  westernElectric,
} from '../sources.ts';
import { filamentMiddle, ratings, type TypicalOperation, type ValveType } from '../valve-type.ts';

const operations = (
  [
    [250, -48, 60e-3, 2000, 4.7],
    [300, -61, 60e-3, 2400, 6.6],
    [350, -74, 60e-3, 2000, 10.2],
  ] as const
).map(([anodeVolts, volts, anodeAmps, ohms, watts]): TypicalOperation => ({
  anodeVolts,
  measured: 'to cathode',
  bias: { kind: 'grid', volts },
  anodeAmps,
  load: { valves: 1, ohms, watts },
  limit: 0.1,
  source: reproduced(westernElectric),
}));

/** Directly heated: the filament is the cathode. */
export const type300b: ValveType = {
  name: '300B',
  synonyms: [],
  title: 'power triode, directly heated',
  base: 'UX4',
  sections: [
    {
      name: '',
      device: 'triode',
      pins: { anode: 2, grid: 3, cathode: filamentMiddle },
      parameters: { mu: 3.92, ex: 1.504, kg1: 2140.3, kp: 64.28, kvb: 300, vct: 0, gasRatio: 2e-6 },
      parameterSource: `${malcolmBrown('Western Electric 1950')}; gas: healthy valve, common practice, no source`,
    },
  ],
  otherPins: [],
  pinSource: `${pinLibrary}; bayonet base`,
  heater: filament([1, 4], 5, 1.2, {
    source: `${pinLibrary}; ${moderns}: 1.1–1.4 A`,
    warmUpSeconds: 3,
    warmUpSource: warmUpPractice,
  }),
  ratings: [
    ...ratings('design-maximum', read('sheets of 1950 (36 W) and the 1990s (40 W)'), {
      anodeVolts: 450,
      anodeWatts: 36,
    }),
    ...ratings('design-maximum', read('sheets; 70 mA with fixed bias, 100 mA with self bias'), {
      cathodeAmps: 100e-3,
    }),
    ...ratings('design-maximum', unverified(westernElectric), {
      gridOhmsFixedBias: 0.05e6,
      gridOhmsCathodeBias: 0.25e6,
    }),
  ],
  characteristics: [
    {
      anodeVolts: 300,
      gridVolts: -61,
      anodeAmps: 60e-3,
      transconductance: 5.5e-3,
      mu: 3.85,
      anodeOhms: 700,
      source: read(`${westernElectric}; grid voltage to the middle of the filament`),
    },
  ],
  operations,
  charts: [],
  spread: { low: -0.25, high: 0.5, source: read(`${moderns}: 45–90 mA at 303 V −58 V`) },
  modelRegions: [
    {
      what: 'class A',
      anodeVolts: [230, 420],
      gridVolts: [-90, -40],
      anodeAmps: [35e-3, 90e-3],
      relativeSigma: 0.05,
      source: '−1 % at 300 V −61 V; other published points 0 to −7 %',
    },
  ],
  rectifier: null,
};
