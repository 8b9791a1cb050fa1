import { expect, test } from 'vitest';
import { compareLimits, leastSourceOhms } from '../../../../shared-core/circuit/supply/limits.ts';

/** EZ81, Mullard data sheet: 1300 V, 500 mA, 150 mA, 50 µF; 150 / 190 / 230 Ω at 2 × 250 / 300 / 350 V. */
const ez81 = {
  inverseVolts: 1300,
  peakAmps: 0.5,
  meanAmps: 0.15,
  reservoirFarads: 50e-6,
  sourceOhmsAt: [
    { emfVolts: 250, ohms: 150 },
    { emfVolts: 300, ohms: 190 },
    { emfVolts: 350, ohms: 230 },
  ],
};

test('reads the least source resistance between, below and above the stated points', () => {
  expect(leastSourceOhms(200, ez81)).toBe(150);
  expect(leastSourceOhms(250, ez81)).toBe(150);
  expect(leastSourceOhms(275, ez81)).toBeCloseTo(170, 10);
  expect(leastSourceOhms(350, ez81)).toBeCloseTo(230, 10);
  expect(leastSourceOhms(400, ez81)).toBeCloseTo(270, 10);
  expect(leastSourceOhms(300, {})).toBeNull();
});

test('puts each figure in percent of its limit, the source resistance the other way round', () => {
  const duty = {
    inverseVolts: 650,
    peakAmps: 0.25,
    meanAmps: 0.075,
    reservoirFarads: 100e-6,
    emfVolts: 300,
    sourceOhms: 380,
  };
  const percents = compareLimits(duty, ez81).map(({ what, percent }) => [what, Math.round(percent)]);
  expect(percents).toEqual([
    ['peak inverse voltage', 50],
    ['peak current', 50],
    ['mean current', 50],
    ['reservoir', 200],
    ['source resistance', 50],
  ]);
});

test('leaves out what the data sheet does not state', () => {
  const duty = {
    inverseVolts: 650,
    peakAmps: 1,
    meanAmps: 1,
    reservoirFarads: 1,
    emfVolts: 300,
    sourceOhms: 1,
  };
  expect(compareLimits(duty, { peakAmps: 2 }).map(({ what }) => what)).toEqual(['peak current']);
});
