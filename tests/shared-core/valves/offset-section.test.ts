import { describe, expect, it } from 'vitest';
import { valveTypes } from '../../../shared-core/valves/index.ts';
import { canBeOff, offsetSection } from '../../../shared-core/valves/offset-section.ts';
import { sectionFigures } from '../../../shared-core/valves/section-law.ts';

const amplifiers = valveTypes.flatMap((type) => {
  const [section] = type.sections;
  const [point] = type.characteristics;
  return section && point && canBeOff(section.device)
    ? [{ name: type.name, section, device: section.device, point }]
    : [];
});

describe('offsetSection', () => {
  const figuresWith = (
    { section, device, point }: (typeof amplifiers)[number],
    offset: Partial<Parameters<typeof offsetSection>[3]>,
  ) => {
    const whole = { current: 1, slope: 1, amplification: 1, ...offset };
    const parameters = offsetSection(device, section.parameters, point, whole);
    return sectionFigures({ ...section, parameters }, point);
  };

  it.each(amplifiers)('$name: changes the slope at the point and leaves the current', (type) => {
    const before = sectionFigures(type.section, type.point);
    const after = figuresWith(type, { slope: 1.06 });
    // The point of the law is found by Newton's method: 1e-9.
    expect(after.transconductance / before.transconductance).toBeCloseTo(1.06, 8);
    expect(after.anodeAmps / before.anodeAmps).toBeCloseTo(1, 8);
    expect(after.screenAmps).toBeCloseTo(before.screenAmps, 10);
  });

  it.each(amplifiers)('$name: changes the current at the point and leaves the slope', (type) => {
    const before = sectionFigures(type.section, type.point);
    const after = figuresWith(type, { current: 0.95 });
    expect(after.anodeAmps / before.anodeAmps).toBeCloseTo(0.95, 8);
    expect(after.transconductance / before.transconductance).toBeCloseTo(1, 8);
    expect(after.screenAmps).toBeCloseTo(before.screenAmps, 10);
  });

  it.each(amplifiers.filter(({ section }) => section.device === 'triode'))(
    '$name: changes the amplification factor and leaves current and slope',
    (type) => {
      const before = sectionFigures(type.section, type.point);
      const after = figuresWith(type, { amplification: 1.035 });
      expect(after.anodeAmps / before.anodeAmps).toBeCloseTo(1, 8);
      expect(after.transconductance / before.transconductance).toBeCloseTo(1, 8);
      // KVB and the contact potential bend the amplification factor of the law away from its MU, by a fifth of
      // the step at most (ECC81): 0.7 % of 3.5 %.
      expect(Math.abs(after.mu / before.mu / 1.035 - 1)).toBeLessThan(0.0075);
    },
  );

  it('keeps its numbers finite far below cutoff', () => {
    const [ecc83] = amplifiers.filter(({ name }) => name === 'ECC83');
    const pivot = { anodeVolts: 100, gridVolts: -12 };
    const { section } = ecc83!;
    const offset = { current: 1.3, slope: 0.7, amplification: 1.1 };
    const parameters = offsetSection('triode', section.parameters, pivot, offset);
    expect(Object.values(parameters).every((value) => Number.isFinite(value))).toBe(true);
    expect(parameters['kg1']).toBeGreaterThan(0);
  });

  it('keeps its numbers finite with grid voltage but no screen voltage, as in standby', () => {
    const pentodes = amplifiers.filter(({ device }) => device === 'pentode');
    expect(pentodes.length).toBeGreaterThan(0);
    for (const { section } of pentodes) {
      const pivot = { anodeVolts: 0, screenVolts: 0, gridVolts: -60 };
      const offset = { current: 1.3, slope: 0.7, amplification: 1 };
      const parameters = offsetSection('pentode', section.parameters, pivot, offset);
      expect(Object.values(parameters).every((value) => Number.isFinite(value))).toBe(true);
      expect(parameters['kg1']! / section.parameters['kg1']!).toBeCloseTo(1 / 1.3, 12);
    }
  });
});
