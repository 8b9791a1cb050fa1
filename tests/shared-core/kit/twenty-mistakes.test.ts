import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { checkKit } from '../../../shared-core/kit/check-kit.ts';
import { positionIn } from '../../fixtures/kits/patch.ts';

const text = readFileSync(new URL('../../fixtures/kits/twenty-mistakes/kit.yaml', import.meta.url), 'utf8');

/** Code, the text at which the problem stands, and a word of its hint, in the order of the file. */
const mistakes: readonly (readonly [string, string, string])[] = [
  ['kit/unquoted-comment', 'Small #1', 'quotes'],
  ['kit/safe-voltage', '90 V', '30 V'],
  ['kit/html', '"The <b>', 'Remove the tag'],
  ['kit/decimal-comma', '5 A }', 'Decimal comma'],
  ['kit/quantity-unit', '450, between', 'unit'],
  ['kit/quantity', '18k0k', '4k7'],
  ['kit/unknown-key', 'wattage', 'rating'],
  ['kit/missing-key', 'R4: {', 'tolerance'],
  ['kit/not-a-choice', 'audio', 'logarithmic'],
  ['kit/part-of-no-step', 'H1: {', 'H1'],
  ['kit/net-one-connection', 'P1.wiper, to', 'Solder'],
  ['kit/unknown-part', 'TS2: [', 'T2'],
  ['kit/danger-valves-on-lamp', '[V2], switches', 'fitted: []'],
  ['kit/danger-loudspeaker-first', '8 ohm loudspeaker', 'resistor'],
  ['kit/quantity', '15 ohm', 'unit of the reading'],
  ['kit/danger-ammeter', 'milliamps', 'across a resistor'],
  ['kit/picture-outside', '../chassis.svg', 'below the folder'],
  ['kit/unknown-lead', 'W188', 'W18'],
  ['kit/duplicate-id', 'lamp-on, title: "Read', 'Rename'],
  ['kit/step-action', 'sign: true, drain', 'two steps'],
];

test('a kit file with twenty mistakes gets twenty problems, each on its line with a hint', () => {
  const result = checkKit(text, 'kit.yaml', ['kit.yaml']);
  if (result.ok) throw new Error('the kit was accepted');
  const expected = mistakes.map(([code, at]) => ({ code, ...positionIn(text, at) }));
  expect(expected).toHaveLength(20);
  expect(result.problems.map(({ code, line, column }) => ({ code, line, column }))).toEqual(expected);
  result.problems.forEach(({ hint }, n) => expect(hint).toContain(mistakes[n]?.[2]));
});
