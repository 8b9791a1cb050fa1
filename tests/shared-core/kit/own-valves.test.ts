import { describe, expect, it } from 'vitest';
import { checkKit } from '../../../shared-core/kit/check-kit.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { fitResiduals } from '../../../shared-core/valves/fit-residuals.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import { modelError } from '../../../shared-core/valves/spread.ts';
import { beforeParts, goodPoints, ownPentode } from '../../fixtures/kits/own-valves.ts';
import { patch, smallKit, smallKitFiles } from '../../fixtures/kits/patch.ts';

function chosenFrom(text: string): ChosenKit {
  const kit = checkKit(text, 'kit.yaml', smallKitFiles);
  if (!kit.ok) throw new Error(JSON.stringify(kit.problems));
  expect(kit.warnings).toEqual([]);
  const chosen = chooseKit(kit.value);
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
}

const withOwn = (points: string): ChosenKit =>
  chosenFrom(
    patch(smallKit, [
      [beforeParts, `${ownPentode(points)}${beforeParts}`],
      ['type: EL84,', 'type: XL84,'],
    ]),
  );

function cathodeVolts(kit: ChosenKit): number {
  const nominal = predictNominal(kit, 'running', nominalBench(kit), { measured: {}, valves: {} });
  return nominal?.prediction.readings.find(({ id }) => id === 'cathode')?.nominal ?? Number.NaN;
}

describe('a valve type of the kit’s own', () => {
  const kit = withOwn(goodPoints);
  const type = findValveType('xl84', kit.valves)!;

  it('is fitted to its points, with the residuals at hand and in the model error', () => {
    const residuals = fitResiduals(type);
    expect(residuals.map(({ what }) => what)).toEqual(['Ia', 'Ig2', 'gm', 'Ia', 'Ig2']);
    for (const { error } of residuals) expect(Math.abs(error)).toBeLessThan(0.1);
    const [anode, , screen] = modelError(type, { anodeVolts: 250, screenVolts: 250, gridVolts: -8 }, 40e-3)!;
    expect(anode).toMatchObject({ parameter: 'current', relativeSigma: 0.05 });
    expect(screen).toMatchObject({ parameter: 'kg2', relativeSigma: 0.08 });
    expect(anode?.source).toContain('fitted to 2 points');
    expect(modelError(type, { anodeVolts: 250, screenVolts: 250, gridVolts: -20 }, 1e-3)).toBeNull();
  });

  it('is computed in the circuit: within 2 % of the EL84 whose points it was given', () => {
    // Both models meet the same sheet within 1 %; the cathode resistor halves what is left.
    expect(Math.abs(cathodeVolts(kit) / cathodeVolts(chosenFrom(smallKit)) - 1)).toBeLessThan(0.02);
  });

  it('comes before the catalogue, even under a name that is there', () => {
    const text = patch(smallKit, [
      [beforeParts, `${ownPentode(goodPoints).replace('XL84', 'EL84')}${beforeParts}`],
    ]);
    const own = chosenFrom(text);
    expect(findValveType('EL84', own.valves)?.title).toBe('Output pentode of our own');
    expect(findValveType('EL84')?.title).not.toBe('Output pentode of our own');
  });

  it('takes parameters with a stated error instead', () => {
    const given = withOwn(
      'parameters: { mu: 19.73, ex: 1.359, kg1: 628.5, kp: 132.6, kvb: 17.9, kg2: 3684.3 }\n    model-error: 10 %',
    );
    // The parameters of the catalogue's EL84 but for its gas.
    expect(Math.abs(cathodeVolts(given) / cathodeVolts(chosenFrom(smallKit)) - 1)).toBeLessThan(0.002);
    const region = findValveType('XL84', given.valves)?.modelRegions[0];
    expect(region?.relativeSigma).toBe(0.1);
  });

  it('is plain data, so that it crosses processes with the kit', () => {
    expect(JSON.parse(JSON.stringify(kit.valves))).toEqual(kit.valves);
    expect(structuredClone(kit.valves)).toEqual(kit.valves);
  });
});
