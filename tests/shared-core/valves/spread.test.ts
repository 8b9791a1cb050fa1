import { describe, expect, it } from 'vitest';
import { findValveType, valveTypes } from '../../../shared-core/valves/index.ts';
import { sectionFigures } from '../../../shared-core/valves/section-law.ts';
import { currentSigma, modelError, spreadParameters } from '../../../shared-core/valves/spread.ts';
import type { ValveType } from '../../../shared-core/valves/valve-type.ts';

const amplifiers = valveTypes
  .filter((type) => type.rectifier === null && !type.stabiliser)
  .map((type) => ({ name: type.name, type }));

/** Logarithmic change of the anode current at the reference point when one parameter moves by one sigma. */
function effectOf(type: ValveType, parameter: string, relativeSigma: number): number {
  const section = type.sections[0]!;
  const point = type.characteristics[0]!;
  const initial = parameter === 'emission' ? 1 : section.parameters[parameter]!;
  const amps = (sigmas: number): number =>
    sectionFigures(section, point, { [parameter]: initial * Math.exp(relativeSigma * sigmas) }).anodeAmps;
  return Math.log(amps(0.5) / amps(-0.5));
}

describe('spreadParameters', () => {
  it.each(amplifiers)('$name: reproduces the published limits of the current as two sigma', ({ type }) => {
    const variance = spreadParameters(type).reduce(
      (sum, { parameter, relativeSigma }) => sum + effectOf(type, parameter, relativeSigma) ** 2,
      0,
    );
    const width = Math.log((1 + type.spread.high) / (1 + type.spread.low));
    // The law bends a little over one sigma of mu: 1 %.
    expect((4 * Math.sqrt(variance)) / width).toBeCloseTo(1, 2);
  });

  it('gives EL34 the ±20 % of its sheet as about 10 % sigma', () => {
    expect(currentSigma(findValveType('EL34')!)).toBeCloseTo(0.1, 2);
  });

  it('gives a rectifier one parameter', () => {
    expect(spreadParameters(findValveType('EZ81')!).map(({ parameter }) => parameter)).toEqual(['emission']);
  });

  it('says where each spread is from', () => {
    for (const type of valveTypes) {
      for (const { source, relativeSigma } of spreadParameters(type)) {
        expect(source.length).toBeGreaterThan(2);
        expect(relativeSigma).toBeGreaterThan(0);
      }
    }
  });
});

describe('modelError', () => {
  const el84 = findValveType('EL84')!;

  it('is known at the published points of each type', () => {
    for (const type of valveTypes) {
      for (const point of type.characteristics) {
        // Grid current begins there: no set is verified at zero volts.
        if (amplifiers.some(({ name }) => name === type.name) && point.gridVolts === 0) continue;
        expect(modelError(type, point, point.anodeAmps), `${type.name} ${point.anodeVolts} V`).not.toBeNull();
      }
    }
  });

  it('predicts nothing in the knee, at positive grid, or where the set is known to be wrong', () => {
    expect(modelError(el84, { anodeVolts: 30, screenVolts: 250, gridVolts: -7 }, 40e-3)).toBeNull();
    expect(modelError(el84, { anodeVolts: 250, screenVolts: 250, gridVolts: 1 }, 60e-3)).toBeNull();
    expect(modelError(el84, { anodeVolts: 300, screenVolts: 300, gridVolts: -14.7 }, 11e-3)).toBeNull();
  });

  it('gives anode and screen of a pentode their own figure', () => {
    const error = modelError(el84, { anodeVolts: 250, screenVolts: 250, gridVolts: -8.4 }, 36e-3);
    expect(error?.map(({ parameter }) => parameter)).toEqual(['current', 'slope', 'kg2']);
  });

  it('is wider for ECC81 at 100 V, where its sheets disagree', () => {
    const ecc81 = findValveType('ECC81')!;
    const low = modelError(ecc81, { anodeVolts: 100, gridVolts: -1 }, 3e-3);
    const high = modelError(ecc81, { anodeVolts: 250, gridVolts: -2 }, 10e-3);
    expect(low![0]!.relativeSigma).toBeGreaterThan(high![0]!.relativeSigma);
  });
});
