import { describe, expect, test } from 'vitest';
import { fitValves } from '../../../shared-core/faults/fit-valves.ts';
import type { FitReport } from '../../../shared-core/faults/fit-report.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { asInKit, nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import {
  heronAt12Volts,
  heronFor6cg7,
  heronFor6n6p,
  heronForE182cc,
  kitFrom,
  kits,
} from '../../helpers/fit-kits.ts';
import { patch, smallKit } from '../../fixtures/kits/patch.ts';
import { beforeParts, goodPoints, ownPentode } from '../../fixtures/kits/own-valves.ts';

/** Bands are the business of their own tests: the nominal figures are enough here. */
function fit(kit: ChosenKit, valves: Readonly<Record<string, string>>): FitReport {
  const answer = fitValves({
    ...{ chosen: kit, bench: nominalBench(kit), fitted: asInKit, valves },
    depth: 'nominal',
  });
  if (!answer.ok) throw new Error(answer.problems[0].message);
  return answer.value;
}

const reasonsOf = ({ reasons }: FitReport): readonly string[] =>
  reasons.map(({ code, pins }) => [code, ...pins].join(' ')).sort();

describe('a valve that fits', () => {
  test('is the same valve under another name: nothing moves', () => {
    const { verdict, sockets, readings, reasons } = fit(kits.heron, { V1: '12AX7' });
    expect([verdict, sockets[0]?.type, sockets[0]?.verdict, reasons]).toEqual(['fits', 'ECC83', 'fits', []]);
    expect(sockets[0]?.notes[0]).toBe('12AX7 is another name of ECC83: the same valve on the same pins.');
    expect(readings.length).toBeGreaterThan(10);
    expect(readings.every(({ movedBy, isInside }) => movedBy === 0 && isInside)).toBe(true);
  });

  test('is computed as what it is: ECC82 works where its own law and the kit’s resistors meet', () => {
    const report = fit(kits.heron, { V1: 'ECC82' });
    expect([report.verdict, reasonsOf(report)]).toEqual(['changed', []]);
    const point = (what: string) =>
      report.sockets[0]?.points.find((each) => each.section === 'V1.1' && each.what === what)?.after ?? 0;
    const [anode, grid, amps] = ['anode voltage', 'grid voltage', 'anode current'].map(point) as Three;
    // Koren's law (Glass Audio 8(5), 1996) with S. Malcolm-Brown's set of the ECC82, fitted to Mullard 1969.
    const [mu, ex, kg1, kp, kvb] = [19.98, 1.291, 1359, 87.34, 300];
    const drive = (anode / kp) * Math.log(1 + Math.exp(kp * (1 / mu + grid / Math.sqrt(kvb + anode ** 2))));
    expect(amps).toBeCloseTo((2 * drive ** ex) / kg1, 8);
    // R11, 1.5 kΩ, is all that makes the bias; the gas current in the grid leak stays below a millivolt.
    expect(grid).toBeCloseTo(-1500 * amps, 2);
    const cathode = report.readings.find(({ id }) => id === 'v1a-cathode');
    // The same in the readings: what the meter's 10 MΩ take off 1.5 kΩ is 0.02 %.
    expect(cathode?.after?.nominal).toBeCloseTo(1500 * amps, 2);
    expect(cathode?.movedShare).toBeGreaterThan(0.5);
  });

  test('of the kit’s own types counts like one of the catalogue', () => {
    const own = kitFrom(patch(smallKit, [[beforeParts, `${ownPentode(goodPoints)}${beforeParts}`]]));
    const report = fit(own, { V1: 'XL84' });
    expect([report.sockets[0]?.type, reasonsOf(report)]).toEqual(['XL84', []]);
    expect(report.sockets[0]?.pins.every(({ fit: each }) => each === 'same')).toBe(true);
  });
});

type Three = [number, number, number];

describe('a valve that must not be fitted', () => {
  test('E182CC where 6N6P belongs: high tension on its cathode, in words and volts', () => {
    const report = fit(heronFor6n6p, { V1: 'E182CC' });
    expect(reasonsOf(report)).toEqual(['electrode 6', 'electrode 8', 'electrode 9', 'heater-volts 4 5 8']);
    const [first] = report.reasons;
    expect([first?.text, first?.damage].map((text) => text?.replace(/\d+(\.\d+)?\s?V/gu, 'n V'))).toEqual([
      'Pin 6 is wired for the anode of section 2, and brings n V; E182CC has its cathode of section 1 there.',
      'High tension on the cathode: n V against the heater, where the insulation bears n V.',
    ]);
    // With the socket empty the anode load carries nothing: the pin stands at B4, near 260 V in Heron's README.
    const pin6 = report.sockets[0]?.pins.find(({ pin }) => pin === 6);
    expect([pin6?.fit, (pin6?.volts ?? 0) > 200, (pin6?.volts ?? 0) < 300]).toEqual(['differs', true, true]);
  });

  test('6N6P where E182CC belongs: high tension on its shield, its heater gets nothing', () => {
    const report = fit(heronForE182cc, { V1: '6N6P' });
    expect(reasonsOf(report)).toEqual(['electrode 6', 'electrode 8', 'electrode 9', 'heater-pins 4 5']);
    expect(report.sockets[0]?.heater).toMatchObject([{ pins: [4, 5], volts: 0, ratedVolts: 6.3 }]);
    const shield = report.reasons.find(({ pins }) => pins.includes(9));
    expect(shield?.damage).toMatch(/on the shield can arc/);
  });

  test('whose heater gets twice its voltage burns it out', () => {
    const report = fit(heronAt12Volts, { V1: '6CG7' });
    const heater = report.reasons.find(({ code }) => code === 'heater-volts');
    expect(heater?.damage).toMatch(/twice its voltage: it burns out/);
    const volts = report.sockets[0]?.heater[0]?.volts ?? 0;
    // 12.6 V at 2.5 A, and 2.4 A of heaters on it: within 5 % of its rating.
    expect(Math.abs(volts / 12.6 - 1)).toBeLessThan(0.05);
  });

  test('has another base', () => {
    const report = fit(kits.heron, { V2: 'EL34' });
    expect([reasonsOf(report), report.sockets[0]?.pins, report.readings]).toEqual([['base'], [], []]);
    expect(report.reasons[0]?.text).toBe(
      'EL34 has the base octal and does not go into the B9A socket of V2.',
    );
  });

  test('joins two pins inside that are wired apart', () => {
    const join = fit(kits.heron, { V2: 'EF86' }).reasons.find(({ code }) => code === 'join');
    expect([join?.pins, join?.damage]).toEqual([[2, 7], expect.stringMatching(/shorted through EF86/)]);
  });

  test('asks more of its winding than it is for: 6N6P where the lighter 6CG7 belongs', () => {
    const report = fit(heronFor6cg7, { V1: '6N6P' });
    // The follower's cathode stands past its stop limit as well: 20 of amplification where 98 belong.
    expect(new Set(reasonsOf(report))).toEqual(new Set(['stop', 'winding']));
    const winding = report.windings.find(({ part }) => part === 'T1.heater');
    // EL84 0.76 A, EZ81 1.0 A and 6N6P 0.75 A; the line is within 2 % of 6.3 V, the currents within 1.2 % then,
    // and the two reference resistors of 100 Ω add 32 mA.
    expect(Math.abs((winding?.value ?? 0) / 2.54 - 1)).toBeLessThan(0.015);
    expect([winding?.limit, winding?.isOver, (winding?.before ?? 0) < 100]).toEqual([2.45, true, true]);
  });
});

describe('two sockets at once', () => {
  test('are judged together, and a type whose pins do not fit is left out of the readings', () => {
    const report = fit(kits.heron, { V1: 'ECC82', V2: 'ECC83' });
    expect(report.verdict).toBe('no');
    expect(report.sockets.map(({ socket, verdict }) => [socket, verdict])).toEqual([
      ['V1', 'changed'],
      ['V2', 'no'],
    ]);
    expect(report.notes.join(' ')).toMatch(/with the kit’s own type in V2/);
  });
});

describe('what cannot be answered', () => {
  test('names the nearest type and socket', () => {
    const answer = fitValves({
      ...{ chosen: kits.heron, bench: nominalBench(kits.heron), fitted: asInKit },
      valves: { V1: 'ECC8A', V33: 'EL84' },
    });
    expect(answer.ok ? [] : answer.problems.map(({ code, hint }) => [code, hint])).toEqual([
      ['kit/unknown-valve-type', 'Did you mean "ECC81"?'],
      ['kit/unknown-part', 'Did you mean "V3"?'],
    ]);
  });
});
