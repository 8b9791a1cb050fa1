import { describe, expect, test } from 'vitest';
import { comparePins } from '../../../shared-core/faults/fit-pins.ts';
import { findValveType, valveTypes } from '../../../shared-core/valves/index.ts';
import { heronFor6n6p, heronForE182cc, kits, kitIds, socketOf } from '../../helpers/fit-kits.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';

function findingsOf(kit: ChosenKit, socket: string, name: string): readonly string[] {
  const type = findValveType(name);
  if (!type) throw new Error(`The catalogue has no ${name}`);
  const { findings } = comparePins(socketOf(kit, socket), type);
  return findings.map(({ code, pins }) => (pins.length === 0 ? code : `${code} ${pins.join('+')}`)).sort();
}

/** Basing 9A with its heater fed 4+5 to 9: only those three have their heater there. */
const parallel9a = ['ECC81', 'ECC82', 'ECC83'];
/** 9A in series, 4 to 5, nothing on 9: whatever has its heater there and the triodes of 9A. */
const series9a = [...parallel9a, '6CG7', '6N1P', '6N23P', '6N6P', 'E88CC', 'ECC88'];
/** 8ET and 7AC with pins 1 and 8 joined at the socket. */
const octalPentodes = ['6L6GC', '6V6GT', '6V6GTA', 'EL34', 'KT88'];

/** The types whose pins answer the wiring of each socket, written down from the basings in the table below. */
const fitting: Readonly<Record<string, readonly string[]>> = {
  'heron V1': parallel9a,
  'heron V2': ['EL84'],
  'heron V3': ['EZ80', 'EZ81'],
  'wren V1-left': series9a,
  'wren V1-right': series9a,
  'curlew V1': parallel9a,
  'curlew V2': octalPentodes,
  'curlew V3': octalPentodes,
  'curlew V4': octalPentodes,
  'curlew V5': octalPentodes,
  'curlew V6': ['5U4GB', '5Y3GT', 'GZ34'],
};

describe('pins of every catalogue type in every socket of the three kits', () => {
  test.each(
    kitIds.flatMap((id) =>
      kits[id].parts.filter(({ kind }) => kind === 'valve').map((part) => [id, part.id] as const),
    ),
  )('%s %s takes the types of its basing and no others', (id, socket) => {
    const wired = socketOf(kits[id], socket);
    const compared = valveTypes.map((type) => ({ type, fit: comparePins(wired, type) }));
    const fits = compared.filter(({ fit }) => fit.findings.length === 0).map(({ type }) => type.name);
    expect(fits.sort()).toEqual([...(fitting[`${id} ${socket}`] ?? [])].sort());
    for (const { type, fit } of compared) {
      const isOtherBase = fit.findings.some(({ code }) => code === 'base');
      expect([type.name, isOtherBase]).toEqual([type.name, type.base !== wired.base]);
      expect(fit.rows).toHaveLength(isOtherBase ? 0 : wired.pins.length);
    }
  });
});

/**
 * Worked out by hand, basing against wiring; 1 g2 means pin 1 is grid 2, sections 1 and 2 of double valves.
 *
 * 9A (ECC81…83; public pinout library): 1 a2, 2 g2, 3 k2, 4 h, 5 h, 6 a1, 7 g1, 8 k1, 9 h-tap.
 * 9CV (EL84; public pinout library): 2 g1, 3 k, 4 h, 5 h, 7 a, 9 g2; 1, 6, 8 internal.
 * 9CQ (EF86; public pinout library): 1 g2, 2 s, 3 k, 4 h, 5 h, 6 a, 7 s, 8 g3, 9 g1; 2 and 7 are one.
 * ECC88, 6CG7 (public pinout library), 6N1P (Katsnel’son & Larionov, from memory): triodes as 9A, h 4 5, s 9.
 * E182CC (Philips handbook, from memory, to be verified): 1 a2, 2 g2, 3 k2, 4 h, 5 h, 6 k1, 7 g1, 8 h-tap, 9 a1.
 * EZ81 (Philips handbook, from memory): 1 a, 3 k, 4 h, 5 h, 7 a; the others internal.
 * 8ET (EL34; public pinout library): 1 g3, 2 h, 3 a, 4 g2, 5 g1, 7 h, 8 k; 6 absent.
 * 7AC (6L6GC; RCA RC-30, from memory): 2 h, 3 a, 4 g2, 5 g1, 7 h, 8 k; 1 and 6 free.
 * 8BD (6SN7GT; public pinout library): 1 g2, 2 a2, 3 k2, 4 g1, 5 a1, 6 k1, 7 h, 8 h.
 * 5T (5U4GB; RCA RC-30, from memory): 2 f, 4 a, 6 a, 8 f. 5DA (GZ34; Philips, from memory): 2 h, 4 a, 6 a, 8 h+k.
 */
const byHand: readonly (readonly [keyof typeof kits, string, string, readonly string[]])[] = [
  ['heron', 'V1', 'ECC81', []],
  // Pins 4 and 5 are one wire there: the heater between them gets nothing.
  ['heron', 'V1', '6N1P', ['heater-pins 4+5']],
  ['heron', 'V1', 'ECC88', ['heater-pins 4+5']],
  ['heron', 'V1', '6CG7', ['heater-pins 4+5']],
  // k1 on the anode load, the tap on the cathode, a1 on the heater line.
  ['heron', 'V1', 'E182CC', ['electrode 6', 'electrode 8', 'electrode 9']],
  // a on a grid, g2 on the heater line, internal pins on both anodes and a cathode, whose wiring waits in vain.
  [
    'heron',
    'V1',
    'EL84',
    ['electrode 7', 'electrode 9', 'heater-pins 4+5', 'internal 1', 'internal 6', 'internal 8'],
  ],
  ['heron', 'V2', 'ECC83', ['electrode 7', 'electrode 9', 'open 1', 'open 6', 'open 8']],
  // g2 and a in the air, g3 too; the shield on grid and anode, which it joins; g1 on the screen.
  [
    'heron',
    'V2',
    'EF86',
    ['electrode 2', 'electrode 7', 'electrode 9', 'join 2+7', 'open 1', 'open 6', 'open 8'],
  ],
  ['heron', 'V2', 'EZ81', ['duty', 'internal 2', 'internal 9', 'open 1']],
  ['heron', 'V3', 'EZ80', []],
  ['wren', 'V1-left', 'ECC88', []],
  ['wren', 'V1-left', 'E182CC', ['electrode 6', 'electrode 8', 'open 9']],
  ['curlew', 'V2', '6L6GC', []],
  // g2 on the cathode, a2 on the heater, k2 on the anode, g1 on the screen, a1 on the grid, k1 in the air, h on the cathode.
  [
    'curlew',
    'V2',
    '6SN7GT',
    ['electrode 1', 'electrode 2', 'electrode 3', 'electrode 4', 'electrode 5', 'electrode 8', 'open 6'],
  ],
  ['curlew', 'V6', '5U4GB', []],
  ['curlew', 'V6', '6X4', ['base']],
  ['curlew', 'V6', '2A3', ['base']],
];

describe('rows worked out by hand from the published basings', () => {
  test.each(byHand)('%s %s with %s', (kit, socket, type, expected) => {
    expect(findingsOf(kits[kit], socket, type)).toEqual([...expected].sort());
  });
});

describe('6N6P and E182CC, near in their data and not to be exchanged', () => {
  test('each fits the socket that is wired for it', () => {
    expect(findingsOf(heronFor6n6p, 'V1', '6N6P')).toEqual([]);
    expect(findingsOf(heronForE182cc, 'V1', 'E182CC')).toEqual([]);
  });

  test('E182CC where 6N6P belongs: cathode on the anode load, heater tap on the cathode, anode on the shield', () => {
    expect(findingsOf(heronFor6n6p, 'V1', 'E182CC')).toEqual(['electrode 6', 'electrode 8', 'electrode 9']);
  });

  test('6N6P where E182CC belongs: anode on the cathode, cathode on the heater, shield on the anode load, heater dead', () => {
    expect(findingsOf(heronForE182cc, 'V1', '6N6P')).toEqual([
      'electrode 6',
      'electrode 8',
      'electrode 9',
      'heater-pins 4+5',
    ]);
  });
});
