import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { explainText } from '../../../electron/cli/explain-text.ts';
import { main } from '../../../electron/cli/main.ts';
import type { Explanation } from '../../../shared-core/faults/explain.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));
const kit = 'tests/fixtures/kits/small';

async function run(...argv: readonly string[]) {
  let [out, err] = ['', ''];
  const io = { env: {}, platform: 'linux' as const, home: '/nobody', cwd: root };
  const code = await main(argv, { ...io, out: (text) => (out += text), err: (text) => (err += text) });
  return { code, out: out.normalize('NFKC'), err: err.normalize('NFKC') };
}

interface Json {
  readonly healthy: boolean;
  readonly falseAlarmLevel: number;
  readonly causes: readonly {
    readonly group: string;
    readonly faults: readonly { readonly part: string; readonly kind: string }[];
    readonly probability: number;
  }[];
  readonly slips: readonly object[];
  readonly next: Readonly<Record<string, unknown>> | null;
}

describe('kitwright explain', () => {
  test('ends with 0 and no cause for readings of a healthy amplifier', async () => {
    // R1 is 180 kΩ across C1; the leads' 0.2 Ω are lost in it.
    const { code, out } = await run('explain', kit, '--reading', 'b1-cold=180k', '--json');
    const json = JSON.parse(out) as Json;
    expect([code, json.healthy, json.causes, json.next]).toEqual([0, true, [], null]);
    expect(json.falseAlarmLevel).toBeCloseTo(0.02, 12);
  });

  test('ends with 1, names the causes with their probabilities, and what to do next', async () => {
    const { code, out } = await run('explain', kit, '--reading', 'b1-cold=18k', '--json');
    const json = JSON.parse(out) as Json;
    expect([code, json.healthy]).toEqual([1, false]);
    expect(json.causes[0]!.faults).toContainEqual(expect.objectContaining({ part: 'R1', kind: '÷10' }));
    expect(json.causes.at(-1)!.faults).toEqual([]);
    const chosen = { name: 'Small', revision: 'A' } as ChosenKit;
    const text = explainText({ chosen }, json as unknown as Explanation).normalize('NFKC');
    expect(text).toContain('Probable causes');
    expect(text).toContain('R1 is about 10 times too small');
    expect(text).toContain('two faults, or something this model cannot see');
  });

  test('names the next measurement, with its place, condition and reason', async () => {
    const { out } = await run('explain', kit, '--reading', 'b1-cold=22k', '--json');
    const keys = Object.keys((JSON.parse(out) as Json).next ?? {});
    expect(keys).toEqual(expect.arrayContaining(['place', 'measure', 'condition', 'action', 'why']));
  });

  test('ends with 2 for an unknown reading, condition or value, or none at all', async () => {
    const unknown = await run('explain', kit, '--reading', 'b1-cole=22k');
    expect([unknown.code, unknown.err]).toEqual([2, expect.stringContaining('b1-cold')]);
    expect((await run('explain', kit, '--reading', 'b1-cold=blue')).code).toBe(2);
    expect((await run('explain', kit, '--reading', 'b1-cold=22k', '--condition', 'warm')).code).toBe(2);
    expect((await run('explain', kit)).code).toBe(2);
  });
});
