import { cpSync, existsSync, mkdirSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { createEngine } from '../../../electron/engine-worker/engine.ts';
import { localWorkplace } from '../../../electron/engine-worker/workplaces.ts';
import { sha256 } from '../../../electron/files/sha256.ts';
import type { BuilderAction, BuildView } from '../../../shared-core/contract/calls.ts';
import { parseJournal } from '../../../shared-core/journal/parse-journal.ts';
import { readRecord } from '../../../shared-core/journal/read-record.ts';
import { dcSetup } from '../../helpers/journey.ts';
import { removeFolders } from '../../helpers/folders.ts';
import { startTestHost } from '../../helpers/start-host.ts';
import type { TestHost } from '../../helpers/start-host.ts';
import { walkBench } from '../../helpers/walk-kit.ts';

let host: TestHost;
let view: BuildView;
// The first facts of a kit take seconds of computing.
beforeAll(async () => {
  host = await startTestHost({ engine: createEngine(localWorkplace) });
  const { kits } = await host.call('app.hello', {});
  const path = kits.find(({ id }) => id === 'heron')?.path ?? '';
  const started = await host.call('practice.start', { path, choices: {} });
  if (!started.ok) throw new Error(started.problems[0].message);
  view = started.value;
  await act({ kind: 'bench-recorded', by: 'hand', bench: walkBench });
}, 120_000);
afterAll(async () => {
  await host.close();
  removeFolders();
});

async function act(action: BuilderAction): Promise<void> {
  const { build, seq } = view.build;
  const outcome = await host.call('build.act', { build, expectedSeq: seq, action });
  if (outcome.kind !== 'done') throw new Error(`${action.kind}: ${JSON.stringify(outcome).slice(0, 400)}`);
  view = outcome.view;
}

const build = (): string => view.build.build;
const shows = async (kind: 'reading' | 'store', id: string): Promise<string> => {
  const shown = await host.call('practice.meter', { build: build(), at: { kind, id } });
  if (!shown.ok) throw new Error(shown.problems[0].message);
  return shown.value;
};

describe('a practice power-up', () => {
  test('says what it is in every view, and begins as an assembled amplifier: nothing is proven', async () => {
    expect(view.practice).toEqual({ skippedMs: 0 });
    expect(view.build.safety.energy).toMatchObject({ kind: 'draining', timeKnown: false });
    const opened = await host.call('build.open', { build: build() });
    expect(opened).toMatchObject({ ok: true, value: { practice: { skippedMs: 0 } } });
  });

  test('lies in a folder of its own, in a format of its own, and in no list of builds', async () => {
    const journal = join(host.dataFolder, 'practice/builds', build(), 'journal.jsonl');
    expect(readFileSync(journal, 'utf8').split('\n')[0]).toContain('"format":"kitwright-practice/1"');
    expect(existsSync(join(host.dataFolder, 'builds', build()))).toBe(false);
    expect((await host.call('app.hello', {})).builds).toEqual([]);
  });

  test('shows on its meter the same figure each time, and OL where nothing conducts', async () => {
    const first = await shows('reading', 'v2-cathode');
    expect(Number(first)).toBeGreaterThan(0);
    expect(await shows('reading', 'v2-cathode')).toBe(first);
    const open = view.kit.readings.find(({ proves }) => proves === 'line-apart')?.id ?? '';
    expect(await shows('reading', open)).toBe('OL');
    expect(
      await host.call('practice.meter', { build: build(), at: { kind: 'store', id: 'V99' } }),
    ).toMatchObject({
      ok: false,
    });
  });

  test('skips the wait of a second look on its own clock, and never on the host’s', async () => {
    await act({ kind: 'plug-out-confirmed', by: 'hand' });
    await act({ kind: 'black-lead-clipped', by: 'hand' });
    await host.pass(5000);
    await act({ kind: 'meter-shown-to-work', setup: dcSetup, volts: 9.1, by: 'hand' });
    const looks = async (): Promise<void> => {
      for (const { part: store } of view.facts.stores) {
        await host.pass(5000);
        const volts = Number(await shows('store', store));
        await act({ kind: 'store-look', store, volts, setup: dcSetup, enteredAfterMs: 5000, by: 'hand' });
        const { energy } = view.build.safety;
        const asks = energy.kind === 'draining' && energy.stores[store]?.needsChecks === true;
        const all = { place: true, dcFunction: true, range: true, hold: true, leads: true };
        if (asks) await act({ kind: 'look-checked', store, ...all, by: 'hand' });
      }
    };
    await looks();
    const before = host.clock.now().tick;
    const skipped = await host.call('practice.skip', { build: build(), seconds: 61 });
    expect(skipped).toMatchObject({ ok: true, value: { practice: { skippedMs: 61_000 } } });
    expect(host.clock.now().tick).toBe(before);
    await looks();
    await host.pass(5000);
    await act({ kind: 'meter-shown-to-work', setup: dcSetup, volts: 9.1, by: 'hand' });
    expect(view.build.safety.energy.kind).toBe('dead');
    expect(view.practice?.skippedMs).toBe(61_000);
  });

  test('is refused by name as a build, as a record, as a paper and with a photo', async () => {
    const folder = join(host.dataFolder, 'practice/builds', build());
    const text = readFileSync(join(folder, 'journal.jsonl'), 'utf8');
    expect(parseJournal(text, sha256)).toMatchObject({ ok: false, problems: [{ code: 'journal/practice' }] });
    expect(readRecord(text, sha256)).toMatchObject({ ok: false, problems: [{ code: 'record/practice' }] });
    expect(await host.call('record.open', { text })).toMatchObject({
      problems: [{ code: 'record/practice' }],
    });
    for (const blob of ['report', 'record'] as const) {
      expect((await host.blob(blob, { build: build() })).ok, blob).toBe(false);
    }
    const paper = await host.call('paper.pages', { paper: { kind: 'report', build: build() } });
    expect(paper).toMatchObject({ ok: false, problems: [{ code: 'journal/practice' }] });
    const fit = { subject: { kind: 'build', build: build() }, valves: {} } as const;
    expect(await host.call('fit.valves', fit)).toMatchObject({ problems: [{ code: 'journal/practice' }] });
  });

  test('copied among the builds is no build there, whatever its header is made to say', async () => {
    const builds = join(host.dataFolder, 'builds');
    mkdirSync(builds, { recursive: true });
    const copied = '00000000-0000-4000-8000-000000000000';
    cpSync(join(host.dataFolder, 'practice/builds', build()), join(builds, copied), { recursive: true });
    expect(readdirSync(builds)).toEqual([copied]);
    expect(await host.call('build.open', { build: copied })).toMatchObject({
      ok: false,
      problems: [{ code: 'journal/practice' }],
    });
    const text = readFileSync(join(builds, copied, 'journal.jsonl'), 'utf8');
    const forged = parseJournal(text.replace('kitwright-practice/1', 'kitwright-journal/1'), sha256);
    // Every entry hangs on the header: with another one not a single entry holds.
    expect(forged).toMatchObject({
      ok: true,
      value: { entries: [] },
      warnings: [{ code: 'journal/broken' }],
    });
  });
});

describe('a build', () => {
  test('has no skip and no practice meter', async () => {
    const { kits } = await host.call('app.hello', {});
    const path = kits.find(({ id }) => id === 'heron')?.path ?? '';
    const started = await host.call('build.start', { path, choices: {}, startedFrom: 'loose parts' });
    if (!started.ok) throw new Error(started.problems[0].message);
    const own = started.value.build.build;
    expect(started.value.practice).toBeUndefined();
    expect(await host.call('practice.skip', { build: own, seconds: 60 })).toMatchObject({ ok: false });
    const at = { kind: 'reading', id: 'v2-cathode' } as const;
    expect(await host.call('practice.meter', { build: own, at })).toMatchObject({ ok: false });
  });
});
