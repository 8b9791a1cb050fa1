import { describe, expect, it } from 'vitest';
import { fitSection } from '../../../shared-core/valves/fit-section.ts';
import { findValveType } from '../../../shared-core/valves/index.ts';
import type { CharacteristicPoint, SectionDevice } from '../../../shared-core/valves/valve-type.ts';

/** Points published by the makers, as the catalogue holds them with their sources. */
function published(type: string): readonly CharacteristicPoint[] {
  return findValveType(type)!.characteristics.filter(({ gridVolts }) => gridVolts < 0);
}

/** EL84: the characteristic point and two operating points of the same handbook (Philips/Mullard). */
const el84: readonly CharacteristicPoint[] = [
  ...published('EL84'),
  { anodeVolts: 250, screenVolts: 250, gridVolts: -8.4, anodeAmps: 36e-3, screenAmps: 4.1e-3, source: '' },
  { anodeVolts: 289.6, screenVolts: 289.6, gridVolts: -10.4, anodeAmps: 36e-3, screenAmps: 4e-3, source: '' },
];

function fit(device: SectionDevice, points: readonly CharacteristicPoint[]) {
  const result = fitSection(device, points);
  if (!result.ok) throw new Error(result.message);
  return result;
}

describe('fitSection', () => {
  it.each([
    { name: 'ECC83', device: 'triode', points: published('ECC83') },
    { name: '6SN7GT', device: 'triode', points: published('6SN7GT') },
    { name: 'ECC81', device: 'triode', points: published('ECC81') },
    { name: 'EL84', device: 'pentode', points: el84 },
  ] as const)('meets the published anode currents of $name within 10 %', ({ device, points }) => {
    const { residuals } = fit(device, points);
    const currents = residuals.filter(({ what }) => what === 'Ia');
    expect(currents).toHaveLength(points.length);
    expect(Math.max(...currents.map(({ error }) => Math.abs(error)))).toBeLessThan(0.1);
  });

  it('meets slope and mu of ECC83 and the screen currents of EL84 within 10 %', () => {
    for (const { residuals } of [fit('triode', published('ECC83')), fit('pentode', el84)]) {
      for (const { what, error } of residuals) expect(Math.abs(error), what).toBeLessThan(0.1);
    }
  });

  it('finds the perveance of a rectifier exactly from one point: G = I/V^1.5', () => {
    const { parameters } = fit('rectifier-valve', [
      { anodeVolts: 20, gridVolts: 0, anodeAmps: 150e-3, source: '' },
    ]);
    // 0.15 A / 20^1.5 V^1.5 = 1.6771e-3; the weak pull to the usual value takes 1e-4 of it.
    expect(parameters['perveance']! / 1.6771e-3).toBeCloseTo(1, 3);
  });

  it('gives the same parameters every time', () => {
    expect(fit('triode', published('ECC83'))).toEqual(fit('triode', published('ECC83')));
  });

  it('says so where there are too few points', () => {
    const [first] = published('ECC83');
    expect(fitSection('triode', [first!])).toMatchObject({ ok: false, kind: 'too-few', point: null });
    const bare = el84.map((point) => ({ ...point, screenAmps: undefined }));
    expect(fitSection('pentode', bare)).toMatchObject({ ok: false, kind: 'too-few' });
  });

  it.each([
    { what: 'a positive grid', change: { gridVolts: 2 } },
    {
      what: 'a current that rises as the grid goes down',
      change: { anodeVolts: 250, anodeAmps: 3e-3, gridVolts: -3 },
    },
    { what: 'a slope that no cathode has', change: { transconductance: 16e-3 } },
    { what: 'a mu that is not slope times resistance', change: { mu: 20 } },
    { what: 'a current in the wrong unit', change: { anodeAmps: 0.5, transconductance: undefined } },
  ])('refuses $what and names the point', ({ change }) => {
    const [first, second] = published('ECC83');
    expect(fitSection('triode', [first!, { ...second!, ...change }])).toMatchObject({
      ok: false,
      kind: 'bad-point',
    });
  });
});
