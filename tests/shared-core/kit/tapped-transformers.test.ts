import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { endsOf } from '../../../shared-core/kit/places.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { root } from '../../run/child.mjs';

const heron = readFileSync(join(root, 'kits/heron/kit.yaml'), 'utf8');
const [plainPrimary, plainHt] = [
  '{ volts: 230 V, dcr: 28 }',
  '{ volts: 225-0-225 V, at: 65 mA, dcr: [105, 110] }',
];

/** Heron with another primary or high-tension winding of its 230 V transformer. */
function readWith(primary: string, ht: string = plainHt) {
  const text = heron
    .replace(`primary: ${plainPrimary}`, `primary: ${primary}`)
    .replace(`ht: ${plainHt}`, `ht: ${ht}`);
  return readKit(text, 'kit.yaml');
}

/** The first problem, with the text of its line. */
function problemOf(result: ReturnType<typeof readWith>) {
  if (result.ok) throw new Error('no problem was found');
  const [{ code, message, hint, line }] = result.problems;
  return { code, message, hint, line };
}

describe('taps of a mains transformer', () => {
  it('are read, with an end each', () => {
    const result = readWith(
      '{ volts: 230 V, dcr: 28, taps: [220 V, 240 V] }',
      '{ volts: 225-0-225 V, at: 65 mA, dcr: [105, 110], tap: 45 V }',
    );
    if (!result.ok) throw new Error(result.problems[0].message);
    const part = result.value.parts.find(({ id }) => id === 'T1')!;
    expect(part).toMatchObject({ primary: { volts: 230, dcrOhms: 28, taps: [220, 240] } });
    expect(endsOf(part)).toEqual([
      ...['primary.a', 'primary.220', 'primary.b', 'primary.240'],
      ...['ht.a', 'ht.tap', 'ht.ct', 'ht.b', 'heater.a', 'heater.b'],
    ]);
  });

  it('may not be listed for a voltage that has its end already', () => {
    const { code, message, hint, line } = problemOf(
      readWith('{ volts: 230 V, dcr: 28, taps: [220 V, 230 V] }'),
    );
    expect([code, line]).toEqual(['kit/quantity', 22]);
    expect(message).toContain('230 V twice');
    expect(hint).toContain('End b is the one for `volts`');
  });

  it('lie below the whole of their winding', () => {
    const { code, message, hint, line } = problemOf(
      readWith(plainPrimary, '{ volts: 225-0-225 V, at: 65 mA, dcr: [105, 110], tap: 250 V }'),
    );
    expect([code, line]).toEqual(['kit/quantity', 24]);
    expect(message).toContain("below the winding's 225 V, received 250 V");
    expect(hint).toContain('from the centre tap');
  });

  it('give no place that the kit does not state', () => {
    const text = heron.replace('from: T1.primary.a,', 'from: T1.primary.240,');
    const result = readKit(text, 'kit.yaml');
    if (result.ok) throw new Error('no problem was found');
    expect(result.problems.map(({ code }) => code)).toContain('kit/unknown-end');
  });
});
