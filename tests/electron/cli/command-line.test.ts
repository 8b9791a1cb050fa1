import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { main } from '../../../electron/cli/main.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));
afterAll(removeFolders);

async function run(...argv: readonly string[]) {
  let [out, err] = ['', ''];
  const code = await main(argv, {
    // Numbers and units are joined by a narrow no-break space.
    out: (text) => (out += text.normalize('NFKC')),
    err: (text) => (err += text.normalize('NFKC')),
    env: {},
    platform: 'linux',
    home: '/nobody',
    cwd: root,
  });
  return { code, out, err };
}

/** Heron with one piece of its kit file exchanged. */
function heronWith(from: string, to: string): string {
  const folder = join(newFolder(), 'heron');
  mkdirSync(folder);
  cpSync(join(root, 'kits/heron'), folder, { recursive: true });
  const path = join(folder, 'kit.yaml');
  const text = readFileSync(path, 'utf8');
  if (!text.includes(from)) throw new Error(`Heron has no ${from}`);
  writeFileSync(path, text.replace(from, to));
  return folder;
}

interface ExpectJson {
  readonly conditions: readonly {
    readonly readings: readonly {
      readonly id: string;
      readonly nominal: number;
      readonly [key: string]: unknown;
    }[];
    readonly ratings: readonly object[];
  }[];
}

describe('the command line', () => {
  test('says what it can do: on standard output when asked, else on standard error with exit code 2', async () => {
    const [asked, empty] = [await run('--help'), await run()];
    expect([asked.code, asked.err, empty.code, empty.out]).toEqual([0, '', 2, '']);
    expect(asked.out).toBe(empty.err);
    for (const name of ['check', 'expect', 'drain', 'fit', 'report']) {
      expect(asked.out).toContain(`  ${name} `);
      const help = await run(name, '--help');
      expect([help.code, help.out]).toEqual([0, expect.stringContaining('--json')]);
    }
  });

  test.each([
    [['chek', 'kits/heron'], 'Did you mean "check"?'],
    [['expect', 'kits/heron', '--conditon', 'running'], 'Did you mean "--condition"?'],
    [['expect'], 'KIT is missing'],
    [['drain', 'a', 'b'], '"b" is one thing too many'],
    [['expect', 'kits/heron', '--mains'], '--mains needs a value'],
    [['expect', 'kits/heron', '--json=yes'], '--json takes no value'],
    [['expect', 'kits/heron', '--condition', 'runing'], 'Did you mean "running"?'],
    [['expect', 'kits/heron', '--option', 'main=120'], 'Did you mean "mains"?'],
    [['expect', 'kits/heron', '--fit', 'V1=ECC8'], 'Did you mean "ECC8'],
    [['expect', 'kits/heron', '--meter', 'digital'], '--meter digital: expected its input resistance'],
    [['check', 'kits/nowhere'], 'There is no "'],
    [['check', 'tests'], 'There is no kit.yaml in "'],
    [['report', 'package.json', '--out', 'x.pdf'], 'This file is not the record of a build.'],
    [['report', 'package.json'], '--out is missing'],
  ])('answers %j with exit code 2 and what to do', async (argv, words) => {
    const plain = await run(...argv);
    expect([plain.code, plain.out, plain.err]).toEqual([2, '', expect.stringContaining(words)]);
  });

  test('gives problems as JSON on standard output where JSON is asked for', async () => {
    const { code, out, err } = await run('expect', 'kits/nowhere', '--json');
    expect([code, err]).toEqual([2, '']);
    expect(JSON.parse(out)).toMatchObject({ problems: [{ code: 'file/not-found', severity: 'error' }] });
  });

  test('says several mistakes at once', async () => {
    const given = ['--mains', 'x', '--fit', 'V9=EL84', '--fit', 'V1=XY', '--option', 'mains=5', '--json'];
    const { out } = await run('expect', 'kits/heron', ...given);
    expect((JSON.parse(out) as { problems: unknown[] }).problems).toHaveLength(4);
  });
});

describe('check', () => {
  test('finds nothing in Heron', async () => {
    const { code, out, err } = await run('check', 'kits/heron');
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('kits/heron: nothing wrong');
  }, 60_000);

  test('gives every mistake its line and a hint, with exit code 1', async () => {
    const { code, out } = await run('check', 'tests/fixtures/kits/twenty-mistakes', '--json');
    const { problems } = JSON.parse(out) as { problems: { line: number; hint: string; file: string }[] };
    expect([code, problems.length]).toEqual([1, 20]);
    expect(problems.every(({ line, hint }) => line > 0 && hint.length > 5)).toBe(true);
    expect(problems[0]?.file).toBe('tests/fixtures/kits/twenty-mistakes/kit.yaml');
  });

  test('computes the circuit: a resistor too small for its power is found on its line', async () => {
    // 46 mA through 220 Ω is 0.47 W at the least (Ohm's law): more than a quarter of a watt.
    const from = 'value: 220, tolerance: 5 %, rating: 5 W';
    const folder = heronWith(from, 'value: 220, tolerance: 5 %, rating: 0.25 W');
    const { code, out } = await run('check', folder, '--json');
    const { problems } = JSON.parse(out) as { problems: { code: string; line: number; message: string }[] };
    const text = readFileSync(join(folder, 'kit.yaml'), 'utf8').split('\n');
    expect([code, problems[0]?.code]).toEqual([1, 'electricity/over-rating']);
    expect(text[(problems[0]?.line ?? 0) - 1]).toContain('rating: 0.25 W');
  }, 60_000);
});

describe('expect', () => {
  test('gives the members that are published, in SI units, with no number that JSON cannot hold', async () => {
    const { code, out } = await run(
      'expect',
      'kits/heron',
      '--condition',
      'running',
      '--mains',
      '236',
      '--json',
    );
    const report = JSON.parse(out) as ExpectJson;
    expect(code).toBe(0);
    expect(Object.keys(report).sort()).toEqual(
      ['format', 'kit', 'revision', 'hash', 'mainsVolts', 'mainsHertz', 'meter', 'conditions'].sort(),
    );
    expect(report).toMatchObject({
      format: 'kitwright-expect/1',
      kit: 'heron',
      mainsVolts: 236,
      mainsHertz: 50,
    });
    const [condition] = report.conditions;
    const members = [
      'id',
      'at',
      'against',
      'measure',
      'unit',
      'predicted',
      'nominal',
      'low',
      'high',
      'stopAbove',
      'stopBelow',
    ];
    expect(Object.keys(condition?.readings[0] ?? {}).sort()).toEqual(members.sort());
    expect(Object.keys(condition?.ratings[0] ?? {}).sort()).toEqual([
      'limit',
      'part',
      'percent',
      'value',
      'what',
    ]);
    expect(out).not.toMatch(/NaN|Infinity/);
  }, 60_000);

  test('sees the meter: a cold divider reads lower on 20 kΩ/V, and a volt more of mains reads higher', async () => {
    const b1 = async (...given: readonly string[]): Promise<number> => {
      const { out } = await run('expect', 'kits/heron', '--condition', 'running', '--json', ...given);
      const readings = (JSON.parse(out) as ExpectJson).conditions[0]?.readings ?? [];
      return readings.find(({ id }) => id === 'v1a-anode')?.nominal ?? NaN;
    };
    const plain = await b1();
    expect(await b1('--meter', '1k/V')).toBeLessThan(0.95 * plain);
    expect(await b1('--mains', '240')).toBeGreaterThan(plain);
  }, 60_000);

  test('takes another valve, and warns where the mains is not that of the option chosen', async () => {
    const { code, out, err } = await run(
      'expect',
      'kits/heron',
      '--condition',
      'no-valves',
      '--mains',
      '120',
    );
    expect([code, out]).toEqual([0, expect.stringContaining('120 V 50 Hz as measured')]);
    expect(err).toContain('120 V is far from the 230 V');
    const fitted = await run('expect', 'kits/heron', '--condition', 'no-valves', '--fit', 'v1=ecc81');
    expect(fitted.code).toBe(2);
    expect((await run('expect', 'kits/heron', '--condition', 'no-valves', '--fit', 'V1=12at7')).code).toBe(0);
  }, 60_000);

  test('has exit code 1 when a part is past its rating', async () => {
    const folder = heronWith('max-primary-current: 60 mA', 'max-primary-current: 30 mA');
    const { code, out } = await run('expect', folder, '--condition', 'running');
    expect([code, out]).toEqual([1, expect.stringContaining('OVER')]);
  }, 60_000);
});

describe('drain', () => {
  test('gives times in seconds, slowest last, and exit code 0 for Heron', async () => {
    const { code, out } = await run('drain', 'kits/heron', '--json');
    const report = JSON.parse(out) as { safeVolts: number; stores: Record<string, number>[] };
    expect([code, report.safeVolts, Object.keys(report).sort()]).toEqual([0, 30, ['safeVolts', 'stores']]);
    for (const { fastSeconds = 0, likelySeconds = 0, slowSeconds = 0 } of report.stores) {
      expect(fastSeconds).toBeLessThan(likelySeconds);
      expect(likelySeconds).toBeLessThan(slowSeconds);
      expect(slowSeconds).toBeLessThan(60);
    }
  }, 60_000);
});
