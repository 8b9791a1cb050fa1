import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createEngine } from '../../../electron/engine-worker/engine.ts';
import { localWorkplace } from '../../../electron/engine-worker/workplaces.ts';
import { sha256 } from '../../../electron/files/sha256.ts';
import type { BuildView } from '../../../shared-core/contract/calls.ts';
import { readRecord } from '../../../shared-core/journal/read-record.ts';
import { changeWords } from '../../../shared-core/report/day-one-section.ts';
import { removeFolders } from '../../helpers/folders.ts';
import { startTestHost } from '../../helpers/start-host.ts';
import type { TestHost } from '../../helpers/start-host.ts';
import { Walker, walkBench } from '../../helpers/walk-kit.ts';

let host: TestHost;
let old: Walker;
let text: string;
let view: BuildView;
// The first facts of a kit take seconds of computing.
beforeAll(async () => {
  host = await startTestHost({ engine: createEngine(localWorkplace) });
  const { kits } = await host.call('app.hello', {});
  const path = kits.find(({ id }) => id === 'heron')?.path ?? '';
  const started = await host.call('build.start', { path, choices: {}, startedFrom: 'loose parts' });
  if (!started.ok) throw new Error(started.problems[0].message);
  old = new Walker(host, started.value);
  await old.do({ kind: 'bench-recorded', by: 'hand', bench: walkBench });
  await old.walkTo('off-lamp');
  text = await (await host.blob('record', { build: old.view.build.build })).text();
  const service = await host.call('service.start', { text });
  if (!service.ok) throw new Error(service.problems[0].message);
  view = service.value;
}, 120_000);
afterAll(async () => {
  await host.close();
  removeFolders();
});

describe('a service', () => {
  test('begins draining, time unknown, with nothing of the old record taken for proven', () => {
    expect(view.build.startedFrom).toBe('old record');
    expect(view.build.safety.energy).toMatchObject({ kind: 'draining', timeKnown: false, plugOut: null });
    expect(view.build.readings).toEqual({});
    expect(view.build.valves).toEqual({});
    expect(view.build.safety.socketsUnknown).toBe(true);
    expect(view.build.build).not.toBe(old.view.build.build);
  });

  test('holds every reading of the record as that of day one, OL included', () => {
    const taken = Object.entries(old.view.build.readings);
    expect(taken.length).toBeGreaterThan(20);
    const expected = Object.fromEntries(taken.map(([id, { entries }]) => [id, entries.at(-1)?.entry]));
    expect(view.build.dayOne?.readings).toEqual(expected);
    expect(Object.values(expected).some((entry) => entry?.kind === 'overload')).toBe(true);
  });

  test('hands day one on in its own record, and says so in its report', async () => {
    const { build } = view.build;
    const record = readRecord(await (await host.blob('record', { build })).text(), sha256);
    expect(record).toMatchObject({ ok: true, warnings: [], value: { build: { dayOne: view.build.dayOne } } });
    const pages = await host.call('paper.pages', { paper: { kind: 'report', build } });
    expect(JSON.stringify(pages)).toContain('This is a service');
  });

  test('is not begun from what is no record, nor without the very kit of the record', async () => {
    expect(await host.call('service.start', { text: 'hello' })).toMatchObject({
      problems: [{ code: 'record/not-json' }],
    });
    const other = JSON.parse(text) as { build: { kitHash: string } };
    other.build.kitHash = 'f'.repeat(64);
    const refused = await host.call('service.start', { text: JSON.stringify(other) });
    expect(refused).toMatchObject({ ok: false, problems: [{ message: /not on the shelf/ }] });
  });

  test('takes day one from no screen: only the host writes it', async () => {
    const action = { kind: 'day-one-taken', by: 'hand', record: '', at: null, readings: {} };
    const { build, seq } = view.build;
    const answer = await host.request('/call/build.act', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ build, expectedSeq: seq, action }),
    });
    expect(answer.status).toBe(400);
  });
});

describe('the change since day one', () => {
  const value = (figure: number) => ({ kind: 'value', value: figure }) as const;
  test.each([
    // 8.4 V after 8 V is 5 %; a negative bias that grows more negative has fallen.
    [value(8), value(8.4), '+5\u202f%'],
    [value(-40), value(-41), '−2.5\u202f%'],
    [value(100), value(100.01), 'none'],
    [{ kind: 'overload' } as const, { kind: 'overload' } as const, 'none'],
    [{ kind: 'overload' } as const, value(1e6), '—'],
    [value(0), value(1), '—'],
  ])('from %j to %j is %s', (then, now, words) => {
    expect(changeWords(then, now)).toBe(words);
  });
});
