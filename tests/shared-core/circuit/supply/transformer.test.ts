import { expect, test } from 'vitest';
import {
  assumedRegulation,
  openCircuitVolts,
  peakOf,
  reduceCore,
  sourceOhms,
  type StatedTransformer,
} from '../../../../shared-core/circuit/supply/transformer.ts';

const stated: StatedTransformer = {
  primary: { volts: 230, dcrOhms: 14 },
  windings: [
    { name: 'ht', volts: 250, centreTapped: true, amps: 0.1, dcrOhms: [92, 98] },
    { name: 'heater', volts: 6.3, centreTapped: false, amps: 3, dcrOhms: [0.09] },
  ],
};

test('gives back the stated volts when every winding is loaded at its own current', () => {
  const open = openCircuitVolts(stated);
  // The load that draws the rated current at the stated voltage; both halves of the HT in series.
  const core = reduceCore(open, 230, [
    { winding: 'ht', ohms: 500 / 0.1 },
    { winding: 'heater', ohms: 6.3 / 3 },
  ]);
  const [ht, heater] = open.windings;
  const heaterVolts = heater!.pieces[0]!.ratio * core.volts - 3 * 0.09;
  expect(heaterVolts).toBeCloseTo(6.3, 10);
  const halves = ht!.pieces.map(({ ratio, ohms }) => ratio * core.volts - 0.1 * ohms);
  expect(halves[0]! + halves[1]!).toBeCloseTo(500, 9);
  // Equal turns, unequal copper: 0.1 A in 6 Ω more.
  expect(halves[0]! - halves[1]!).toBeCloseTo(0.6, 9);
});

test('has the open-circuit EMF of a hand calculation', () => {
  // P = (500 + 0.1·190)·0.1 + (6.3 + 3·0.09)·3 = 71.61 W; E = (230 + √(230² − 4·14·71.61))/2 = 225.5552 V.
  const power = 519 * 0.1 + 6.57 * 3;
  const loaded = (230 + Math.sqrt(230 ** 2 - 4 * 14 * power)) / 2;
  expect(loaded).toBeCloseTo(225.5552, 4);
  const [ht, heater] = openCircuitVolts(stated).windings;
  expect(ht!.pieces.map(({ emfVolts }) => emfVolts)).toEqual([
    expect.closeTo((259.5 * 230) / loaded, 9),
    expect.closeTo((259.5 * 230) / loaded, 9),
  ]);
  expect(ht!.pieces.map(({ ohms }) => ohms)).toEqual([92, 98]);
  expect(heater!.pieces[0]!.emfVolts).toBeCloseTo((6.57 * 230) / loaded, 9);
});

test('keeps unequal halves as two source resistances with the reflected primary', () => {
  const open = openCircuitVolts(stated);
  const core = reduceCore(open, 230, []);
  const [first, second] = open.windings[0]!.pieces;
  const reflected = (first!.emfVolts / 230) ** 2 * 14;
  expect(sourceOhms(core, first!)).toBeCloseTo(92 + reflected, 9);
  expect(sourceOhms(core, second!)).toBeCloseTo(98 + reflected, 9);
});

test('lets a heater lower the core and share the primary', () => {
  const open = openCircuitVolts(stated);
  const core = reduceCore(open, 240, [{ winding: 'heater', ohms: 2 }]);
  const { ratio, ohms } = open.windings[1]!.pieces[0]!;
  const referred = (2 + ohms) / ratio ** 2;
  expect(core.volts).toBeCloseTo((240 * referred) / (referred + 14), 9);
  expect(core.ohms).toBeCloseTo((14 * referred) / (referred + 14), 9);
});

test('estimates missing copper and says which', () => {
  const open = openCircuitVolts({
    primary: { volts: 120, dcrOhms: null },
    windings: [{ name: 'heater', volts: 6.3, centreTapped: false, amps: 2, dcrOhms: null }],
  });
  expect(open.estimated).toEqual(['heater', 'primary']);
  const [piece] = open.windings[0]!.pieces;
  // Loss of the assumed regulation in all, half of it on either side: off load about that much higher.
  expect(piece!.emfVolts / 6.3 - 1).toBeGreaterThan(assumedRegulation);
  expect(piece!.emfVolts / 6.3 - 1).toBeLessThan(1.15 * assumedRegulation);
  expect(openCircuitVolts(stated).estimated).toEqual([]);
});

test('lowers the peak by the flattening of the crest', () => {
  expect(peakOf(230, 0)).toBeCloseTo(325.269, 3);
  expect(peakOf(230, -0.04) / peakOf(230, 0)).toBeCloseTo(0.96, 12);
});
