import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { main } from '../../../electron/cli/main.ts';
import type { FitReport } from '../../../shared-core/faults/fit-report.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));

async function run(...argv: readonly string[]) {
  let [out, err] = ['', ''];
  const code = await main(argv, {
    // Numbers and units are joined by a narrow no-break space.
    out: (text) => (out += text.normalize('NFKC')),
    err: (text) => (err += text.normalize('NFKC')),
    ...{ env: {}, platform: 'linux', home: '/nobody', cwd: root },
  });
  return { code, out, err };
}

describe('kitwright fit', () => {
  test('ends with 0 where the valve fits, and says how far each reading moves', async () => {
    const { code, out } = await run('fit', 'kits/heron', 'V1=12AX7');
    expect(code).toBe(0);
    expect(out).toContain('Fits as is: every reading stays inside the kit’s own band.');
    expect(out).toContain('12AX7 is another name of ECC83');
    expect(out).toMatch(/v1b-cathode +running .* 0 %\n/);
  });

  test('ends with 1 where it must not be fitted, with the reason and what would be damaged', async () => {
    const text = await run('fit', 'kits/heron', 'V1=E182CC');
    expect([text.code, text.err]).toEqual([1, '']);
    expect(text.out).toMatch(/Damage: High tension on the cathode: 2\d\d V against the heater/);
    const json = await run('fit', 'kits/heron', 'V1=E182CC', '--json', '--option', 'mains=120');
    const report = JSON.parse(json.out) as FitReport;
    expect([json.code, report.format, report.verdict]).toEqual([1, 'kitwright-fit/1', 'no']);
    expect(report.reasons.map(({ code, pins }) => [code, ...pins])).toContainEqual(['electrode', 6]);
  });

  test('asks about every channel of a socket that the kit writes once', async () => {
    const { code, out } = await run('fit', 'kits/wren', 'V1=EL84', '--json');
    const report = JSON.parse(out) as FitReport;
    expect([code, report.sockets.map(({ socket }) => socket)]).toEqual([1, ['V1-left', 'V1-right']]);
  });

  test.each([
    [['V1=ECC8A'], /The valve type "ECC8A" is not in the catalogue[^]*Did you mean "ECC81"\?/],
    [['V11=ECC81'], /no valve socket "V11"[^]*Did you mean "V1"\?/],
    [['ECC81'], /ECC81: expected a socket and a type[^]*V1=ECC83/],
    [[], /V1=TYPE is missing/],
  ])('ends with 2 where it cannot be answered: %j', async (asked, expected) => {
    const { code, err } = await run('fit', 'kits/heron', ...asked);
    expect([code, err]).toEqual([2, expect.stringMatching(expected)]);
  });
});
