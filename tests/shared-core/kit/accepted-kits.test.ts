import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { checkKit } from '../../../shared-core/kit/check-kit.ts';
import { fixedBias } from '../../fixtures/kits/broken-bias.ts';
import { patch, smallKit, smallKitFiles } from '../../fixtures/kits/patch.ts';

const bleeder = 'rating: 2 W, between: [TS1.1, TS1.6] }\n';

/** Beside each danger, the nearest kit that is safe: a check that always fires would fail here. */
const safe: readonly (readonly [string, readonly (readonly [string, string])[]])[] = [
  [
    'feedback closed after its sense was found',
    [
      [
        bleeder,
        `${bleeder}  R5: { kind: resistor, title: "Feedback", value: 10k, tolerance: 5 %, rating: 0.6 W, between: [J2.hot, V1.3] }\n`,
      ],
      [
        '{ id: sign-off,',
        '{ id: sense, title: "Sense", do: "Compare.", feedback-sense: true, compare: { readings: [cathode, b1-running], within: 5 % } }\n      - { id: close, title: "Close the loop", do: "Solder it.", parts: [R5] }\n      - { id: sign-off,',
      ],
    ],
  ],
  [
    'a mains capacitor with its own bleeder',
    [
      [
        bleeder,
        `${bleeder}  C2: { kind: capacitor, title: "Mains", type: film, value: 100n, tolerance: 10 %, rating: 275 V, between: [S1.a1, S1.a2] }\n  R5: { kind: resistor, title: "Its bleeder", value: 1M, tolerance: 5 %, rating: 0.5 W, between: [S1.a2, S1.a1] }\n`,
      ],
      ['do: "Solder them.", leads: [W1,', 'do: "Solder them.", parts: [C2, R5], leads: [W1,'],
    ],
  ],
  [
    'a fixed resistor instead of a load on the jack',
    [
      [
        bleeder,
        `${bleeder}  R5: { kind: resistor, title: "Load", value: 8, tolerance: 5 %, rating: 10 W, between: [J2.hot, J2.cold] }\n`,
      ],
      ['parts: [R2, R3, R4]', 'parts: [R2, R3, R4, R5]'],
      ['loads: { J2: 8 ohm resistor }, ', ''],
    ],
  ],
  [
    'a store that discharges through a choke and a resistor in series',
    [
      [
        '  R1: { kind: resistor, title: "Bleeder", value: 180k, tolerance: 5 %, rating: 2 W, between: [TS1.1, TS1.6] }\n',
        '  L1: { kind: choke, title: "Choke", value: 10 H, dcr: 240, tolerance: 20 %, max-current: 100 mA, between: [TS1.1, TS1.2] }\n  R1: { kind: resistor, title: "Bleeder", value: 180k, tolerance: 5 %, rating: 2 W, between: [TS1.2, TS1.6] }\n',
      ],
      ['parts: [C1, R1]', 'parts: [C1, L1, R1]'],
    ],
  ],
  [
    'a decimal comma in quotes',
    [['primary: { volts: 120 V, dcr: 7.6 }', 'primary: { volts: 120 V, dcr: "7,6" }']],
  ],
  ['a comment after a value that is not prose', [['  revision: A\n', '  revision: A # the first\n']]],
  ['fixed bias read first, adjuster at most negative', fixedBias],
  ['Windows line ends and a byte order mark', []],
];

describe('a kit that is safe', () => {
  test.each(safe)('is accepted without a warning: %s', (what, replacements) => {
    const text = patch(smallKit, replacements);
    const written = what.startsWith('Windows') ? `\ufeff${text.replaceAll('\n', '\r\n')}` : text;
    const result = checkKit(written, 'kit.yaml', smallKitFiles);
    expect(result.ok ? result.warnings : result.problems).toEqual([]);
  });

  test.each(['heron', 'wren', 'curlew'])('%s is accepted without a warning', (id) => {
    const folder = new URL(`../../../kits/${id}/`, import.meta.url);
    const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).map((path) =>
      path.replaceAll('\\', '/'),
    );
    const result = checkKit(readFileSync(new URL('kit.yaml', folder), 'utf8'), 'kit.yaml', files);
    expect(result.ok ? result.warnings : result.problems).toEqual([]);
  });
});
