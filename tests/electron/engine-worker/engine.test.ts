import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { createEngine } from '../../../electron/engine-worker/engine.ts';
import type { Workplace } from '../../../electron/engine-worker/engine.ts';
import { threadWorkplace } from '../../../electron/engine-worker/workplaces.ts';
import type { Jobs } from '../../../electron/engine-worker/jobs.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

afterAll(removeFolders);

type Needs = Jobs['condition']['needs'];
const needs = (condition: string): Needs => ({ condition }) as Needs;

/** A workplace whose jobs end when told to. */
function slowWorkplace() {
  const begun: { readonly condition: string; readonly end: (failing?: boolean) => void }[] = [];
  const workplace: Workplace = {
    work: (_, given) =>
      new Promise((resolve, reject) => {
        const { condition } = given as Needs;
        const end = (failing = false): void =>
          failing ? reject(new Error('broke')) : resolve(null as never);
        begun.push({ condition, end });
      }),
    close: () => Promise.resolve(),
  };
  return { begun, engine: createEngine(workplace) };
}

const order = (key: string, slot = key) => ({ key, slot });
const settle = () => new Promise((resolve) => setTimeout(resolve, 0));

describe('the engine', () => {
  test('does one job after the other', async () => {
    const { begun, engine } = slowWorkplace();
    const both = [
      engine.run('condition', needs('a'), order('a')),
      engine.run('condition', needs('b'), order('b')),
    ];
    await settle();
    expect(begun.map(({ condition }) => condition)).toEqual(['a']);
    begun[0]?.end();
    await settle();
    begun[1]?.end();
    expect((await Promise.all(both)).map(({ ok }) => ok)).toEqual([true, true]);
  });

  test('drops a job that waits when a newer one takes its slot, and says so', async () => {
    const { begun, engine } = slowWorkplace();
    const running = engine.run('condition', needs('first'), order('1'));
    const old = engine.run('condition', needs('old'), order('2', 'slot'));
    const newer = engine.run('condition', needs('newer'), order('3', 'slot'));
    expect(await old).toMatchObject({ ok: false, problems: [{ code: 'predict/replaced' }] });
    begun[0]?.end();
    await running;
    await settle();
    begun[1]?.end();
    expect([(await newer).ok, begun.map(({ condition }) => condition)]).toEqual([true, ['first', 'newer']]);
  });

  test('remembers an answer under its key, also while it is being made', async () => {
    const { begun, engine } = slowWorkplace();
    const asked = [1, 2, 3].map(() => engine.run('condition', needs('a'), order('a')));
    await settle();
    begun[0]?.end();
    await Promise.all(asked);
    await engine.run('condition', needs('a'), order('a'));
    expect(begun).toHaveLength(1);
  });

  test('does not remember a breakdown', async () => {
    const { begun, engine } = slowWorkplace();
    const broken = engine.run('condition', needs('a'), order('a'));
    await settle();
    begun[0]?.end(true);
    expect(await broken).toMatchObject({
      ok: false,
      problems: [{ code: 'predict/failed', message: /broke/ }],
    });
    const again = engine.run('condition', needs('a'), order('a'));
    await settle();
    begun[1]?.end();
    expect((await again).ok).toBe(true);
  });
});

describe('a thread of its own', () => {
  /** A stand-in for the built worker: answers, throws or dies as the condition says. */
  function workerFile(): URL {
    const path = join(newFolder(), 'worker.mjs');
    const code = `
      import { parentPort } from 'node:worker_threads';
      parentPort.on('message', ({ id, needs }) => {
        if (needs.condition === 'die') process.exit(3);
        if (needs.condition === 'throw') parentPort.postMessage({ id, error: 'no' });
        else parentPort.postMessage({ id, gives: needs.condition });
      });`;
    writeFileSync(path, code);
    return pathToFileURL(path);
  }

  test('answers each job, and is started again after it died', async () => {
    const workplace = threadWorkplace(workerFile());
    expect(await workplace.work('condition', needs('a'))).toBe('a');
    await expect(workplace.work('condition', needs('throw'))).rejects.toThrow('no');
    await expect(workplace.work('condition', needs('die'))).rejects.toThrow('code 3');
    expect(await workplace.work('condition', needs('b'))).toBe('b');
    await workplace.close();
  });
});
