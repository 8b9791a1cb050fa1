import { appendFileSync, cpSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { createEngine } from '../../../electron/engine-worker/engine.ts';
import { localWorkplace } from '../../../electron/engine-worker/workplaces.ts';
import { JournalFile } from '../../../electron/files/journal-file.ts';
import { sha256 } from '../../../electron/files/sha256.ts';
import type { BuilderAction, BuildView } from '../../../shared-core/contract/calls.ts';
import { nextEntry } from '../../../shared-core/journal/journal-entry.ts';
import { parseJournal } from '../../../shared-core/journal/parse-journal.ts';
import type { StartedFrom } from '../../../shared-core/safety/energy-state.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';
import { handClock, startTestHost } from '../../helpers/start-host.ts';
import type { TestHost, TestHostOptions } from '../../helpers/start-host.ts';
import { Walker, walkBench } from '../../helpers/walk-kit.ts';

/** One engine for all hosts of this file: what one computed, the next one remembers. */
const shared = createEngine(localWorkplace);
const engine = { ...shared, close: () => Promise.resolve() };
const hosts: TestHost[] = [];

async function newHost(options: TestHostOptions = {}): Promise<TestHost> {
  const host = await startTestHost({ engine, ...options });
  hosts.push(host);
  return host;
}

async function newBuild(host: TestHost, startedFrom: StartedFrom = 'loose parts'): Promise<Walker> {
  const { kits } = await host.call('app.hello', {});
  const path = kits.find(({ id }) => id === 'heron')?.path ?? '';
  const started = await host.call('build.start', { path, choices: {}, startedFrom });
  if (!started.ok) throw new Error(started.problems[0].message);
  return new Walker(host, started.value);
}

async function opened(host: TestHost, build: string): Promise<BuildView> {
  const result = await host.call('build.open', { build });
  if (!result.ok) throw new Error(result.problems[0].message);
  return result.value;
}

function journalOf(host: TestHost, build: string): string {
  return join(host.dataFolder, 'builds', build, 'journal.jsonl');
}

let host: TestHost;
// The first facts of a kit take seconds of computing; everything after is remembered.
beforeAll(async () => {
  host = await newHost();
  const { view } = await newBuild(host);
  const walker = new Walker(host, view);
  await walker.do({ kind: 'bench-recorded', by: 'hand', bench: walkBench });
}, 120_000);
afterAll(async () => {
  await Promise.all(hosts.map((each) => each.close()));
  removeFolders();
});

describe('a build', () => {
  test('begins at its first step, dead when it is of loose parts', async () => {
    const { view } = await newBuild(host);
    expect(view.build.safety.energy).toMatchObject({ kind: 'dead', proof: 'never plugged in' });
    expect(view.currentStep).toBe(view.facts.steps[0]?.id);
    expect([view.build.seq, view.writer, view.notices]).toEqual([1, true, []]);
  });

  test('begins draining, time unknown, when somebody else assembled it', async () => {
    const { view } = await newBuild(host, 'assembled');
    expect(view.build.safety.energy).toMatchObject({ kind: 'draining', timeKnown: false });
  });

  test('is refused for a kit that is not there, with the path in the message', async () => {
    const started = await host.call('build.start', {
      path: '/nowhere',
      choices: {},
      startedFrom: 'loose parts',
    });
    expect(started).toMatchObject({ ok: false, problems: [{ code: 'file/not-found', message: /nowhere/ }] });
  });

  test('is on disk before its answer, each entry on its line', async () => {
    const walker = await newBuild(host);
    await walker.do({ kind: 'note-written', by: 'hand', about: null, text: 'a note' });
    const lines = readFileSync(journalOf(host, walker.view.build.build), 'utf8').trimEnd().split('\n');
    expect(lines).toHaveLength(3);
    expect(lines[2]).toContain('"a note"');
  });

  test('opens with the kit as it was when the kit folder has changed or gone, and says so', async () => {
    const kits = newFolder();
    const path = join(kits, 'heron');
    const { kits: shelf } = await host.call('app.hello', {});
    cpSync(shelf.find(({ id }) => id === 'heron')?.path ?? '', path, { recursive: true });
    const started = await host.call('build.start', { path, choices: {}, startedFrom: 'loose parts' });
    const build = started.ok ? started.value.build.build : '';
    const again = () => newHost({ dataFolder: host.dataFolder });
    // Another host may look on while this one is the writer.
    writeFileSync(join(path, 'notes.txt'), 'changed');
    const changed = await opened(await again(), build);
    expect(changed.notices?.map(({ code }) => code)).toEqual(['build/kit-changed']);
    rmSync(path, { recursive: true });
    const gone = await opened(await again(), build);
    expect(gone.notices?.map(({ code }) => code)).toEqual(['build/kit-gone']);
    expect(gone.kit.name).toBe('Heron');
  });
});

describe('acting', () => {
  test('is refused as stale when another entry came first', async () => {
    const walker = await newBuild(host);
    const { build, seq } = walker.view.build;
    const note = { kind: 'note-written', by: 'hand', about: null, text: 'x' } as const;
    await walker.do(note);
    const outcome = await host.call('build.act', { build, expectedSeq: seq, action: note });
    expect(outcome).toMatchObject({ kind: 'stale', view: { build: { seq: seq + 1 } } });
  });

  test('at once from two screens writes one entry', async () => {
    const walker = await newBuild(host);
    const { build, seq } = walker.view.build;
    const action = { kind: 'note-written', by: 'hand', about: null, text: 'x' } as const;
    const both = [1, 2].map(() => host.call('build.act', { build, expectedSeq: seq, action }));
    const kinds = (await Promise.all(both)).map(({ kind }) => kind).sort();
    expect(kinds).toEqual(['done', 'stale']);
  });

  test('writes nothing when the rules refuse', async () => {
    const walker = await newBuild(host);
    const before = readFileSync(journalOf(host, walker.view.build.build), 'utf8');
    const outcome = await walker.ask({ kind: 'plugged-in', by: 'hand', condition: 'running', step: null });
    expect(outcome.kind === 'refused' && outcome.refusals.length).toBeGreaterThan(3);
    expect(readFileSync(journalOf(host, walker.view.build.build), 'utf8')).toBe(before);
  });

  test('by voice or a held key confirms no plug', async () => {
    const walker = await newBuild(host, 'assembled');
    for (const by of ['voice', 'foot', 'repeat', 'instrument'] as const) {
      const outcome = await walker.ask({ kind: 'plug-out-confirmed', by });
      expect(outcome).toMatchObject({ kind: 'refused', refusals: [{ code: 'safety/by-hand-only' }] });
    }
  });

  test('judges a cold reading on the bands of this bench and keeps what was typed', async () => {
    const walker = await newBuild(host);
    await walker.do({ kind: 'bench-recorded', by: 'hand', bench: walkBench });
    await walker.walkTo('read-stores');
    await walker.do({ kind: 'step-started', by: 'hand', step: 'read-stores' });
    // Heron's bleeders, 180 kΩ and 180 kΩ side by side, are 90 kΩ (closed form).
    const good = await walker.do({
      kind: 'enter-reading',
      by: 'hand',
      reading: 'b1-cold',
      typed: '90k',
      corrects: null,
    });
    expect(good.judged).toMatchObject({ reading: 'b1-cold', verdict: 'as expected' });
    const bad = await walker.do({
      kind: 'enter-reading',
      by: 'hand',
      reading: 'b2-cold',
      typed: '180k',
      corrects: null,
    });
    expect(bad.judged).toMatchObject({ reading: 'b2-cold', verdict: 'out of band' });
    const record = walker.view.build.readings['b2-cold'];
    expect(record?.entries).toMatchObject([
      { typed: '180k', bandShownBefore: false, verdict: 'out of band' },
    ]);
    expect(record?.entries[0]?.band?.nominal).toBeGreaterThan(80e3);
    await walker.do({ kind: 'enter-reading', by: 'hand', reading: 'b2-cold', typed: '90k', corrects: null });
    expect(
      walker.view.build.readings['b2-cold']?.entries.map(({ bandShownBefore }) => bandShownBefore),
    ).toEqual([false, true]);
    // The two go together as bleeders on one chain do; one look each, both at the middle of their bands.
    const seen = await host.call('predict.together', { build: walker.view.build.build });
    expect(seen).toMatchObject({ ok: true, value: { judgement: { healthy: true, standsOut: null } } });
  }, 60_000);

  test('says what it does not understand, and writes nothing', async () => {
    const walker = await newBuild(host);
    const action = {
      kind: 'enter-reading',
      by: 'hand',
      reading: 'b1-cold',
      typed: '4k7k',
      corrects: null,
    } as const;
    const outcome = await walker.ask(action);
    expect(outcome).toMatchObject({ kind: 'problem', problems: [{ code: 'call/not-understood' }] });
    expect(walker.view.build.seq).toBe(1);
  });
});

describe('time and restarts', () => {
  /** A build taken to just after the lamp was plugged in, by a host of its own. */
  async function liveBuild(
    clock = handClock(),
  ): Promise<{ readonly own: TestHost; readonly walker: Walker }> {
    const own = await newHost({ clock });
    const walker = await newBuild(own);
    await walker.do({ kind: 'bench-recorded', by: 'hand', bench: walkBench });
    await walker.walkTo('read-lamp');
    expect(walker.energy().kind).toBe('live');
    return { own, walker };
  }

  test('an alarm is on disk at once and a stop is said at once while a prediction takes its time', async () => {
    const slow = { ms: 0 };
    const slowEngine = {
      ...engine,
      run: (async (...given) => {
        await new Promise((resolve) => setTimeout(resolve, slow.ms));
        return engine.run(...given);
      }) as typeof engine.run,
    };
    const own = await newHost({ engine: slowEngine });
    const walker = await newBuild(own);
    await walker.do({ kind: 'bench-recorded', by: 'hand', bench: walkBench });
    await walker.walkTo('read-lamp');
    const { build } = walker.view.build;
    const entered = { kind: 'enter-reading', by: 'hand', reading: 'heater-1-lamp', corrects: null } as const;
    slow.ms = 1000;
    const act = async (expectedSeq: number, action: BuilderAction) => {
      const since = performance.now();
      const outcome = await own.call('build.act', { build, expectedSeq, action });
      return { outcome, ms: performance.now() - since };
    };
    const { seq } = walker.view.build;
    const late = act(seq, { ...entered, typed: '3.1' });
    // Above 4.2 V on the lamp is past the stop limit of this reading.
    const stop = await act(seq, { ...entered, typed: '30' });
    const mustPull = { kind: 'stop', reading: 'heater-1-lamp' };
    expect(stop.outcome).toMatchObject({
      judged: { verdict: 'stop' },
      view: { build: { safety: { energy: { mustPull } } } },
    });
    const alarm = await act(seq + 1, { kind: 'something-wrong', by: 'hand' });
    expect(alarm.outcome.kind).toBe('done');
    expect(readFileSync(journalOf(own, build), 'utf8')).toContain('"something-wrong"');
    // A tenth of the prediction: a busy machine's worth over the few milliseconds that writing takes.
    expect(Math.max(stop.ms, alarm.ms)).toBeLessThan(100);
    // The number came too late: only the plug is left.
    expect((await late).outcome.kind).toBe('stale');
  }, 60_000);

  test('a host started anew takes what was live for draining, time unknown', async () => {
    const { own, walker } = await liveBuild();
    const { build } = walker.view.build;
    await own.close();
    const next = await newHost({ dataFolder: own.dataFolder, clock: own.clock });
    const view = await opened(next, build);
    expect(view.build.safety.energy).toMatchObject({
      kind: 'draining',
      why: 'closed',
      timeKnown: false,
      plugOut: null,
    });
    expect(view.build.refusedEntries).toEqual([]);
  }, 60_000);

  test('a line cut off by a crash is kept aside, said, and proves nothing', async () => {
    const { own, walker } = await liveBuild();
    const { build } = walker.view.build;
    await own.close();
    const journal = journalOf(own, build);
    appendFileSync(journal, '{"event":{"by":"hand","kind":"plug-out-con');
    const next = await newHost({ dataFolder: own.dataFolder, clock: own.clock });
    const view = await opened(next, build);
    expect(view.build.safety.energy).toMatchObject({ kind: 'draining', plugOut: null });
    expect(view.notices?.map(({ code }) => code)).toContain('journal/cut-off');
    expect(readFileSync(`${journal}.cut-1`, 'utf8')).toBe('{"event":{"by":"hand","kind":"plug-out-con');
  }, 60_000);

  test('lines cut away whole are noticed, and nothing is proven any more', async () => {
    const own = await newHost();
    const walker = await newBuild(own);
    for (const text of ['one', 'two'])
      await walker.do({ kind: 'note-written', by: 'hand', about: null, text });
    const { build } = walker.view.build;
    await own.close();
    const journal = journalOf(own, build);
    const lines = readFileSync(journal, 'utf8').split('\n');
    writeFileSync(journal, `${lines.slice(0, 3).join('\n')}\n`);
    const view = await opened(await newHost({ dataFolder: own.dataFolder }), build);
    expect(view.notices?.map(({ code }) => code)).toContain('journal/broken');
    expect(view.build.safety.energy).toMatchObject({ kind: 'draining', timeKnown: false });
  });

  test('a plug-in that today’s rules refuse is believed all the same: nothing is proven any more', async () => {
    const own = await newHost();
    const { build } = (await newBuild(own)).view.build;
    await own.close();
    const journal = journalOf(own, build);
    const parsed = parseJournal(readFileSync(journal, 'utf8'), sha256);
    if (!parsed.ok) throw new Error('no journal');
    const stamp = { at: '2026-03-07T09:05:00.000Z', run: parsed.value.entries[0]?.run ?? '', tick: 301_000 };
    const plug = { kind: 'plugged-in', by: 'hand', condition: 'running', step: null } as const;
    appendFileSync(journal, nextEntry(parsed.value.end, plug, stamp, sha256)?.line ?? '');
    const view = await opened(await newHost({ dataFolder: own.dataFolder }), build);
    expect(view.build.refusedEntries).toEqual([2]);
    expect(view.build.safety.energy).toMatchObject({ kind: 'draining', timeKnown: false });
  });

  test('a machine that slept ends live and proof alike, with an entry about it', async () => {
    const { own, walker } = await liveBuild();
    own.clock.jump(3_600_000);
    await own.beat();
    await walker.reload();
    expect(walker.view.build.safety.energy).toMatchObject({ kind: 'draining', why: 'asleep or clock set' });
  }, 60_000);

  test('a sleep that a full disk keeps out of the journal ends the proof all the same, and screens are told', async () => {
    const { own, walker } = await liveBuild();
    const { build, seq } = walker.view.build;
    const { events, stop } = await own.hear();
    const full = Object.assign(new Error('no space left'), { code: 'ENOSPC' });
    const append = vi.spyOn(JournalFile.prototype, 'append').mockRejectedValue(full);
    // Here the monotonic clock ran on through the sleep: only the missing beats tell.
    own.clock.run(3_600_000);
    await own.beat();
    const lapsed = { kind: 'draining', why: 'asleep or clock set', plugOut: null };
    expect(await opened(own, build)).toMatchObject({ build: { seq, safety: { energy: lapsed } } });
    await expect.poll(() => events).toContainEqual({ kind: 'build-changed', build, seq, lapsed: true });
    await walker.reload();
    const plugOut = { kind: 'plug-out-confirmed', by: 'hand' } as const;
    expect((await walker.ask(plugOut)).kind).toBe('problem');
    append.mockRestore();
    stop();
    // With room again, the sleep is written before anything else.
    await walker.do(plugOut);
    const kinds = readFileSync(journalOf(own, build), 'utf8').trimEnd().split('\n').slice(-2);
    expect(kinds[0]).toContain('"heartbeat"');
    expect(kinds[1]).toContain('"plug-out-confirmed"');
    expect(walker.view.build.safety.energy).toMatchObject({ kind: 'draining', timeKnown: false });
  }, 60_000);

  test('a clock set back does the same', async () => {
    const { own, walker } = await liveBuild();
    own.clock.jump(-60_000);
    await own.beat();
    await walker.reload();
    expect(walker.view.build.safety.energy.kind).toBe('draining');
  }, 60_000);

  test('a second host may look on and not write; it writes once the first has closed', async () => {
    const own = await newHost();
    const walker = await newBuild(own);
    const { build } = walker.view.build;
    const other = await newHost({ dataFolder: own.dataFolder });
    const looking = new Walker(other, await opened(other, build));
    expect(looking.view.writer).toBe(false);
    const note = { kind: 'note-written', by: 'hand', about: null, text: 'x' } as const;
    expect(await looking.ask(note)).toMatchObject({
      kind: 'problem',
      problems: [{ code: 'build/read-only' }],
    });
    await walker.do(note);
    expect((await opened(other, build)).build.seq).toBe(walker.view.build.seq);
    await own.close();
    expect((await opened(other, build)).writer).toBe(true);
  });
});

test('facts that were edited beside the journal are not believed', async () => {
  const own = await newHost();
  const { build } = (await newBuild(own)).view.build;
  await own.close();
  const folder = join(own.dataFolder, 'builds', build, 'kept');
  const files = readdirSync(folder);
  expect(files).toHaveLength(1);
  const path = join(folder, files[0] ?? '');
  const kept = JSON.parse(readFileSync(path, 'utf8')) as { facts: { stores: unknown[] } };
  expect(kept.facts.stores.length).toBeGreaterThan(0);
  kept.facts.stores = [];
  writeFileSync(path, JSON.stringify(kept));
  const view = await opened(await newHost({ dataFolder: own.dataFolder }), build);
  expect(view.facts.stores.length).toBeGreaterThan(0);
});

describe('the list of builds', () => {
  async function energies(own: TestHost): Promise<readonly string[]> {
    return (await own.call('app.hello', {})).builds.map(({ energy }) => energy);
  }

  test('shows the state that opening a build would give: dead only where it was never plugged in', async () => {
    const own = await newHost();
    await newBuild(own);
    await newBuild(own, 'assembled');
    expect([...(await energies(own))].sort()).toEqual(['dead', 'draining']);
    await own.close();
    const next = await newHost({ dataFolder: own.dataFolder });
    expect([...(await energies(next))].sort()).toEqual(['dead', 'draining']);
  });

  test('calls the state unknown while another face writes, and for a build whose files are damaged', async () => {
    const own = await newHost();
    const { build } = (await newBuild(own)).view.build;
    expect(await energies(await newHost({ dataFolder: own.dataFolder }))).toEqual(['unknown']);
    await own.close();
    writeFileSync(journalOf(own, build), 'not a journal\n');
    const { builds } = await (await newHost({ dataFolder: own.dataFolder })).call('app.hello', {});
    expect(builds).toMatchObject([
      { build, energy: 'unknown', problem: expect.stringContaining('not a journal') },
    ]);
  });
});

describe('the whole of Heron', () => {
  test('goes from loose parts to the last step over the calls, and a new host folds the same build', async () => {
    const own = await newHost();
    const walker = await newBuild(own);
    await walker.do({ kind: 'bench-recorded', by: 'hand', bench: walkBench });
    await walker.walkTo(null);
    const { build, seq, readings, steps } = walker.view.build;
    expect(walker.view.currentStep).toBeNull();
    const taken = Object.values(readings).map(({ verdict }) => verdict);
    expect(taken.filter((verdict) => verdict !== 'as expected' && verdict !== 'not predicted')).toEqual([]);
    expect(taken.length).toBe(walker.view.kit.readings.length);
    const seen = await own.call('predict.together', { build });
    const judgement = seen.ok ? seen.value.judgement : null;
    expect(judgement?.words).toMatch(/^Taken together, these \d+ readings are as a healthy amplifier’s\.$/);
    await own.close();
    const again = await opened(await newHost({ dataFolder: own.dataFolder, clock: own.clock }), build);
    // One entry more: a new run has started.
    expect(again.build).toMatchObject({ seq: seq + 1, readings, steps, refusedEntries: [] });
  }, 120_000);
});

describe('what leaves the app', () => {
  test('a record opens again without a flaw, and with one after an edit', async () => {
    const walker = await newBuild(host);
    const text = await (await host.blob('record', { build: walker.view.build.build })).text();
    const whole = await host.call('record.open', { text });
    expect(whole).toMatchObject({ ok: true, value: { flaws: [], build: { kit: 'heron' } } });
    const edited = await host.call('record.open', { text: text.replace('"loose parts"', '"assembled"') });
    expect(edited.ok && edited.value.flaws.length).toBeGreaterThan(0);
  });

  test('a picture comes from the kit of the build, and nothing from outside it', async () => {
    const { build } = (await newBuild(host)).view.build;
    const picture = await host.blob('picture', { build, path: 'pictures/black-lead.svg' });
    expect([picture.status, picture.headers.get('content-type')]).toEqual([200, 'image/svg+xml']);
    for (const path of ['../journal.jsonl', '../../settings.json', '/etc/passwd', 'kit.yaml', 'pictures']) {
      expect((await host.blob('picture', { build, path })).status).toBe(404);
    }
  });

  test('screens are told of every new entry and hear the heartbeat', async () => {
    const { events, stop } = await host.hear();
    const walker = await newBuild(host);
    await walker.do({ kind: 'note-written', by: 'hand', about: null, text: 'x' });
    await host.beat();
    const { build, seq } = walker.view.build;
    await expect.poll(() => events).toContainEqual({ kind: 'build-changed', build, seq });
    await expect.poll(() => events.some(({ kind }) => kind === 'heartbeat')).toBe(true);
    stop();
  });

  test('no other file is left in the data folder than builds, settings and the host’s note', () => {
    expect(readdirSync(host.dataFolder).sort()).toEqual(['builds', 'host.json', 'settings.json']);
  });
});
