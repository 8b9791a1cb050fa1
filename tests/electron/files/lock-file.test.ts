import { spawn } from 'node:child_process';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { isHeld, takeLock, thisOwner } from '../../../electron/files/lock-file.ts';
import { processStart } from '../../../electron/files/process-start.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

afterAll(removeFolders);

async function endedProcess(): Promise<number> {
  const child = spawn(process.execPath, ['-e', '']);
  await new Promise((resolve) => child.on('close', resolve));
  return child.pid ?? 0;
}

describe('a lock', () => {
  test('is taken once, and again after its release', async () => {
    const path = join(newFolder(), 'lock');
    const [first, second] = [await takeLock(path, thisOwner('a')), await takeLock(path, thisOwner('b'))];
    expect([first.kind, second.kind]).toEqual(['taken', 'held']);
    if (first.kind === 'taken') await first.release();
    expect((await takeLock(path, thisOwner('b'))).kind).toBe('taken');
  });

  test('names its process, its start and its run', async () => {
    const path = join(newFolder(), 'lock');
    await takeLock(path, thisOwner('run-7'));
    const owner: unknown = JSON.parse(readFileSync(path, 'utf8'));
    expect(owner).toEqual({ pid: process.pid, started: processStart(process.pid), run: 'run-7' });
  });

  test('of a process that has ended is stale', async () => {
    const path = join(newFolder(), 'lock');
    const pid = await endedProcess();
    writeFileSync(path, JSON.stringify({ pid, started: 'x', run: 'old' }));
    expect((await takeLock(path, thisOwner('new'))).kind).toBe('taken');
  });

  test('whose process id belongs to a process started at another time is stale', async () => {
    const path = join(newFolder(), 'lock');
    writeFileSync(path, JSON.stringify({ pid: process.pid, started: 'before the last boot:1', run: 'old' }));
    expect((await takeLock(path, thisOwner('new'))).kind).toBe('taken');
  });

  test('that is empty or broken is stale', async () => {
    for (const content of ['', '{"pid":', '[]', '{"pid":"1","started":"x","run":"y"}']) {
      const path = join(newFolder(), 'lock');
      writeFileSync(path, content);
      expect((await takeLock(path, thisOwner('new'))).kind).toBe('taken');
    }
  });

  test('is released by its owner only', async () => {
    const path = join(newFolder(), 'lock');
    const first = await takeLock(path, thisOwner('a'));
    const others = JSON.stringify({ ...thisOwner('b') });
    writeFileSync(path, others);
    if (first.kind === 'taken') await first.release();
    expect(readFileSync(path, 'utf8')).toBe(others);
  });

  test('is given to one of many who want it at once, over a stale one, and leaves no other file', async () => {
    const folder = newFolder();
    const path = join(folder, 'lock');
    writeFileSync(path, JSON.stringify({ pid: await endedProcess(), started: 'x', run: 'old' }));
    const wanted = Array.from({ length: 20 }, (_, index) => takeLock(path, thisOwner(`run-${index}`)));
    const taken = (await Promise.all(wanted)).filter(({ kind }) => kind === 'taken');
    expect(taken).toHaveLength(1);
    expect(readdirSync(folder)).toEqual(['lock']);
  });
});

describe('the start of a process', () => {
  test('is the same each time it is asked for, and none for a process that has ended', async () => {
    expect(processStart(process.pid)).toBe(processStart(process.pid));
    expect(processStart(process.pid)).toMatch(/.+/);
    expect(processStart(await endedProcess())).toBeNull();
    expect([processStart(0), processStart(-1), processStart(1.5)]).toEqual([null, null, null]);
  });

  test('tells a running owner from one that is gone', async () => {
    expect(isHeld(thisOwner('a'))).toBe(true);
    expect(isHeld({ pid: await endedProcess(), started: '', run: 'a' })).toBe(false);
  });
});
