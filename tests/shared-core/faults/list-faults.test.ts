import { describe, expect, it } from 'vitest';
import { listFaultCases, listFaults } from '../../../shared-core/faults/list-faults.ts';
import { areResistorsAlike } from '../../../shared-core/faults/look-alikes.ts';
import { netPlaces } from '../../../shared-core/faults/measurable.ts';
import { elsewhere } from '../../../shared-core/faults/slip-readings.ts';
import type { ResistorPart } from '../../../shared-core/kit/kit.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

const { chosen } = chooseHeron();
const healthy = { chosen, fitted: asStated, flaw: {} };
const faults = listFaults(healthy);
const cases = listFaultCases(healthy);
const find = (id: string) => faults.find(({ part, kind }) => `${part} ${kind}` === id);
const caseOf = (id: string) =>
  cases.find((each) => each.faults.some(({ part, kind }) => `${part} ${kind}` === id));

describe('the single faults of Heron', () => {
  it.each([
    'R10 open',
    'R10 ÷10',
    'R10 exchanged with R7', // absent: the pair is named after its first part
    'R7 exchanged with R10',
    'C5 leaky',
    'C1 reversed',
    'W22 joint missing',
    'V1 joint missing at V1.6',
    'R10 on V1.7 instead of V1.6',
    'V2 pins 2 and 3 bridged',
    'TS3 tags 6 and 7 bridged',
    'W24 exchanged with W26',
    'W29 exchanged with W30',
    'V2 missing',
    'V3 heater out',
    'V1 gassy, section 2',
    'V1 sections exchanged',
    'V1 wrong type EL84',
    'V1 exchanged with V2',
    'V3 dead, section 1',
    'R3 open',
    'T1 primary set for 240 V',
    'J2 load missing in running',
    'P1 at the wrong end in signal',
  ])('%s: listed from the circuit itself, once', (id) => {
    const expected = id === 'R10 exchanged with R7' ? 0 : 1;
    expect(faults.filter(({ part, kind }) => `${part} ${kind}` === id)).toHaveLength(expected);
  });

  it('change what they say: a bridge joins two nets, an end sits elsewhere, a lead is gone', () => {
    const bridged = find('V2 pins 2 and 3 bridged')!.build(healthy).chosen;
    expect(bridged.netOf['V2.2']).toBe(bridged.netOf['V2.3']);
    expect(chosen.netOf['V2.2']).not.toBe(chosen.netOf['V2.3']);
    const moved = find('R10 on V1.7 instead of V1.6')!.build(healthy).chosen;
    expect(moved.parts.find(({ id }) => id === 'R10')).toMatchObject({ between: ['TS3.2', 'V1.7'] });
    expect(
      find('W22 joint missing')!
        .build(healthy)
        .chosen.leads.some(({ id }) => id === 'W22'),
    ).toBe(false);
  });

  it('are one case where they make the same circuit, and none where they change nothing', () => {
    expect(caseOf('R10 open')).toBe(caseOf('R10 joint missing at V1.6'));
    expect(caseOf('V2 missing')).toBe(caseOf('V2 heater out'));
    expect(caseOf('R10 open')).not.toBe(caseOf('R10 shorted'));
    // Tags 1 to 5 of the earth strip are one net: nothing there can be misplaced among them.
    expect(faults.some(({ kind }) => kind === 'on TS2.1 instead of TS2.2')).toBe(false);
    expect(new Set(cases.map(({ id }) => id)).size).toBe(cases.length);
  });
});

describe('areResistorsAlike', () => {
  const resistor = (ohms: number, watts = 0.6): ResistorPart => ({
    ...{ id: 'R1', title: '', when: {}, kind: 'resistor', ohms, watts, between: ['A.1', 'A.2'] },
    tolerance: { low: -0.05, high: 0.05 },
  });

  it('takes one misread band or two exchanged ones, of the same body', () => {
    expect(areResistorsAlike(resistor(10e3), resistor(100e3))).toBe(true); // orange, yellow: the multiplier
    expect(areResistorsAlike(resistor(1.5e3), resistor(5.1e3))).toBe(true); // brown green, green brown
    expect(areResistorsAlike(resistor(100), resistor(220))).toBe(false); // two bands, not exchanged
    expect(areResistorsAlike(resistor(10e3), resistor(100e3, 2))).toBe(false);
    expect(areResistorsAlike(resistor(1e3), resistor(1e3))).toBe(false);
  });
});

describe('netPlaces', () => {
  it('offers tags before pins and nothing of the mains side', () => {
    const places = netPlaces(chosen);
    expect(places).toContain('TS3.6');
    expect(places.filter((place) => /^(inlet|X1|F1|S1|T1\.primary)/.test(place))).toEqual([]);
  });
});

describe('elsewhere', () => {
  it('knows the pin counted from above, the other section and the pins beside', () => {
    const reading = chosen.readings.find(({ id }) => id === 'v1a-anode')!;
    const found = elsewhere(chosen, reading).map(({ kind, reading: taken }) => [kind, taken.at]);
    // Pin 6 of nine counted the other way round is pin 4; the other anode of an ECC83 is pin 1.
    expect(found).toContainEqual(['pin counted from above', 'V1.4']);
    expect(found).toContainEqual(['other section or channel', 'V1.1']);
    expect(found).toContainEqual(['neighbouring pin or tag', 'V1.5']);
    expect(found).toContainEqual(['neighbouring pin or tag', 'V1.7']);
  });
});
