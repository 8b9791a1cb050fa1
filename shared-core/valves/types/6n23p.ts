import { plainHeater } from '../build-type.ts';
import { soviet, unverified, warmUpPractice } from '../sources.ts';
import { ratings, type ValveType } from '../valve-type.ts';
import { ecc88 } from './ecc88.ts';

/** Taken as the ECC88 it stands in for; nothing of its own is verified, so its model is given more room. */
export const type6n23p: ValveType = {
  ...ecc88,
  name: '6N23P',
  synonyms: ['6Н23П'],
  title: 'double triode, close to ECC88',
  sections: ecc88.sections.map((section) => ({
    ...section,
    parameterSource: `those of ECC88: about the same valve, common practice, no source`,
  })),
  pinSource: unverified('as ECC88'),
  heater: plainHeater([4, 5], 6.3, 0.31, {
    source: unverified(soviet),
    warmUpSeconds: 15,
    warmUpSource: warmUpPractice,
  }),
  ratings: ratings('absolute', unverified(soviet), {
    anodeVolts: 300,
    anodeWatts: 1.8,
    cathodeAmps: 20e-3,
    heaterCathodeVolts: 100,
    gridOhmsCathodeBias: 1e6,
  }),
  modelRegions: ecc88.modelRegions.map((region) => ({
    ...region,
    relativeSigma: 0.15,
    source: 'no published point of its own; the width is common practice, no source',
  })),
};
