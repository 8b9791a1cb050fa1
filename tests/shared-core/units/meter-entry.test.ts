import { expect, test } from 'vitest';
import { readMeterEntry } from '../../../shared-core/units/meter-entry.ts';

test.each([
  ['245.3', 'V', 245.3],
  ['0,245 kV', 'V', 245],
  ['-12', 'V', -12],
  ['4k7', 'Ω', 4700],
  [' 0.2 ', 'Ω', 0.2],
  ['245 mV', 'V', 0.245],
] as const)('takes %s for a value in %s', (text, unit, value) => {
  expect(readMeterEntry(text, unit)).toEqual({ ok: true, entry: { kind: 'value', value } });
});

test.each(['OL', 'ol', 'O.L', '0L', '0.L', 'OL.', 'overload', '∞'])('takes %s for overload', (text) => {
  expect(readMeterEntry(text, 'Ω')).toEqual({ ok: true, entry: { kind: 'overload' } });
});

test.each([
  ['', 'Type what the display shows'],
  ['abc', 'OL for overload'],
  ['5 A', 'OL for overload'],
  ['1,245', 'without groups'],
])('refuses "%s" with a hint', (text, hint) => {
  const reading = readMeterEntry(text, 'V');
  expect(!reading.ok && reading.hint).toContain(hint);
});
