import { expect, test } from 'vitest';
import { canonicalJson } from '../../../shared-core/journal/canonical-json.ts';

/** Cases of RFC 8785, sections 3.2.2 to 3.2.4 and appendix B, written down from memory of the text. */

test("writes the RFC's example of numbers, strings and literals", () => {
  // As JSON text, because the RFC's first number has more digits than a double holds.
  const value: unknown = JSON.parse(
    String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],
      "string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
  );
  expect(canonicalJson(value)).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  );
});

test('sorts keys by their UTF-16 code units', () => {
  const value = {
    '\u20ac': 'Euro Sign',
    '\r': 'Carriage Return',
    '\ufb33': 'Hebrew Letter Dalet With Dagesh',
    '1': 'One',
    '\ud83d\ude00': 'Emoji: Grinning Face',
    '\u0080': 'Control',
    '\u00f6': 'Latin Small Letter O With Diaeresis',
  };
  const order = Object.values(JSON.parse(canonicalJson(value) ?? '{}') as Record<string, string>);
  // A key that looks like an index comes first in any JavaScript object: compare by position in the text.
  const text = canonicalJson(value) ?? '';
  const expected = [
    'Carriage Return',
    'One',
    'Control',
    'Latin Small Letter O With Diaeresis',
    'Euro Sign',
    'Emoji: Grinning Face',
    'Hebrew Letter Dalet With Dagesh',
  ];
  expect(expected.toSorted((one, other) => text.indexOf(one) - text.indexOf(other))).toEqual(expected);
  expect(order).toHaveLength(7);
});

test.each([
  [0, '0'],
  [-0, '0'],
  [5e-324, '5e-324'],
  [-1.7976931348623157e308, '-1.7976931348623157e+308'],
  [9007199254740992, '9007199254740992'],
  [295147905179352830000, '295147905179352830000'],
  [9.999999999999997e22, '9.999999999999997e+22'],
  [1e23, '1e+23'],
  [0.000001, '0.000001'],
  [1e-7, '1e-7'],
])('writes %d as %s', (value, text) => {
  expect(canonicalJson(value)).toBe(text);
});

test.each([Number.NaN, Number.POSITIVE_INFINITY, '\ud83d', ['\ude00'], { '\ud83d': 1 }, undefined])(
  'has no form for %j',
  (value) => {
    expect(canonicalJson(value)).toBeNull();
  },
);

test('leaves out members that are undefined, as JSON does', () => {
  expect(canonicalJson({ b: undefined, a: 1 })).toBe('{"a":1}');
});
