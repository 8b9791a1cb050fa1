import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { createEngine } from '../../../electron/engine-worker/engine.ts';
import { localWorkplace } from '../../../electron/engine-worker/workplaces.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';
import { startTestHost } from '../../helpers/start-host.ts';
import type { TestHost } from '../../helpers/start-host.ts';
import { Walker } from '../../helpers/walk-kit.ts';

const shared = createEngine(localWorkplace);
const engine = { ...shared, close: () => Promise.resolve() };
afterAll(() => removeFolders());

async function open(host: TestHost, build: string): Promise<Walker> {
  const opened = await host.call('build.open', { build });
  if (!opened.ok) throw new Error(opened.problems[0].message);
  return new Walker(host, opened.value);
}

test('a revision in mid-build is listed, taken by one press, and is the kit from then on', async () => {
  const host = await startTestHost({ engine });
  const path = join(newFolder(), 'heron');
  const { kits } = await host.call('app.hello', {});
  cpSync(kits.find(({ id }) => id === 'heron')?.path ?? '', path, { recursive: true });
  const started = await host.call('build.start', { path, choices: {}, startedFrom: 'loose parts' });
  if (!started.ok) throw new Error(started.problems[0].message);
  const first = new Walker(host, started.value);
  const { build, kitHash } = first.view.build;
  await first.do({ kind: 'step-started', by: 'hand', step: 'wire-supply-out' });
  expect(first.view.kitChange).toBeNull();
  await host.close();

  const file = join(path, 'kit.yaml');
  const text = readFileSync(file, 'utf8');
  writeFileSync(
    file,
    text.replace('Run W31, orange,', 'Run W31, orange, sleeved,').replace('revision: B', 'revision: C'),
  );
  const second = await startTestHost({ engine, dataFolder: host.dataFolder, clock: host.clock });
  const walker = await open(second, build);
  const change = walker.view.kitChange;
  expect(change).toMatchObject({
    ...{ revision: 'C', parts: [], steps: ['wire-supply-out'] },
    ...{ reopenedSteps: ['wire-supply-out'], takenBack: [] },
  });
  // Until it is taken, the build goes by its own kit.
  expect(walker.view.build).toMatchObject({ revision: 'B', kitHash });
  const other = await walker.ask({ kind: 'accept-kit', by: 'hand', kitHash: '0'.repeat(64) });
  expect(other.kind).toBe('problem');
  const held = await walker.ask({ kind: 'accept-kit', by: 'repeat', kitHash: change?.kitHash ?? '' });
  expect(held).toMatchObject({ kind: 'refused', refusals: [{ code: 'safety/by-hand-only' }] });

  await walker.do({ kind: 'accept-kit', by: 'hand', kitHash: change?.kitHash ?? '' });
  const taken = { revision: 'C', kitHash: change?.kitHash, refusedEntries: [] };
  expect(walker.view).toMatchObject({ build: taken, kitChange: null, notices: [], facts: { revision: 'C' } });
  expect(walker.view.build.steps['wire-supply-out']?.status).toBe('reopened');
  expect(walker.view.build.safety.energy.kind).toBe('dead');
  await second.close();

  // Opened again, the journal folds with both kits, each from its copy.
  writeFileSync(file, text.replace('revision: B', 'revision: D'));
  const third = await startTestHost({ engine, dataFolder: host.dataFolder, clock: host.clock });
  const again = await open(third, build);
  expect(again.view).toMatchObject({ build: taken, kitChange: { revision: 'D' } });
  expect(JSON.stringify(again.view.kit.chapters)).toContain('orange, sleeved');
  expect((await third.call('app.hello', {})).builds).toMatchObject([{ build, energy: 'dead' }]);
  await third.close();
}, 120_000);
