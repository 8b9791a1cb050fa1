import { spawn, spawnSync } from 'node:child_process';
import { appendFileSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'vite';
import { afterAll, describe, expect, test } from 'vitest';
import { JournalFile } from '../../../electron/files/journal-file.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

afterAll(removeFolders);

describe('a journal on disk', () => {
  test('holds a line once append resolved', async () => {
    const path = join(newFolder(), 'journal.jsonl');
    const journal = await JournalFile.create(path, 'first\n');
    await journal.append('second\n');
    expect(readFileSync(path, 'utf8')).toBe('first\nsecond\n');
    await journal.close();
  });

  test('writes lines in the order they were given, whoever waits', async () => {
    const path = join(newFolder(), 'journal.jsonl');
    const journal = await JournalFile.create(path, '0\n');
    await Promise.all(Array.from({ length: 50 }, (_, index) => journal.append(`${index + 1}\n`)));
    const expected = Array.from({ length: 51 }, (_, index) => `${index}\n`).join('');
    expect(readFileSync(path, 'utf8')).toBe(expected);
    await journal.close();
  });

  test('is never made over one that is there', async () => {
    const path = join(newFolder(), 'journal.jsonl');
    writeFileSync(path, 'kept\n');
    await expect(JournalFile.create(path, 'new\n')).rejects.toThrow(/EEXIST/);
    expect(readFileSync(path, 'utf8')).toBe('kept\n');
  });

  test('cuts off what does not hold and keeps it aside, each time under a new name', async () => {
    const folder = newFolder();
    const path = join(folder, 'journal.jsonl');
    writeFileSync(path, 'first\n{"half');
    const one = await JournalFile.open(path, 6);
    await one.journal.close();
    appendFileSync(path, 'again');
    const two = await JournalFile.open(path, 6);
    await two.journal.append('second\n');
    await two.journal.close();
    expect(readFileSync(path, 'utf8')).toBe('first\nsecond\n');
    expect([one.cutFile, two.cutFile]).toEqual([`${path}.cut-1`, `${path}.cut-2`]);
    expect([readFileSync(`${path}.cut-1`, 'utf8'), readFileSync(`${path}.cut-2`, 'utf8')]).toEqual([
      '{"half',
      'again',
    ]);
  });

  test('leaves nothing aside where all holds', async () => {
    const folder = newFolder();
    const path = join(folder, 'journal.jsonl');
    writeFileSync(path, 'first\n');
    const { journal, cutFile } = await JournalFile.open(path, 6);
    await journal.close();
    expect([cutFile, readdirSync(folder)]).toEqual([null, ['journal.jsonl']]);
  });
});

describe('a program killed while it appends', () => {
  test('loses no line that it was told is written', async () => {
    const folder = newFolder();
    const script = await bundledWriter(folder);
    for (const afterMs of [20, 60, 150]) {
      const path = join(folder, `journal-${afterMs}.jsonl`);
      const told = await killWhileWriting(script, path, afterMs);
      const text = readFileSync(path, 'utf8');
      const whole = text
        .slice(0, text.lastIndexOf('\n') + 1)
        .split('\n')
        .slice(0, -1);
      expect(told).toBeGreaterThan(0);
      expect(whole.length).toBeGreaterThanOrEqual(told);
      expect(whole.every((line, index) => line.startsWith(`${index} `))).toBe(true);
    }
  }, 60_000);
});

describe('a disk that is full', () => {
  test('leaves no half line behind', async () => {
    const folder = newFolder();
    const script = await bundledWriter(folder);
    const path = join(folder, 'journal.jsonl');
    // A limit of 16 blocks of 512 bytes (POSIX ulimit) ends in the middle of the fifth line of 2003 bytes.
    const command = `trap '' XFSZ; ulimit -f 16; exec "$0" "$1" "$2"`;
    const done = spawnSync('sh', ['-c', command, process.execPath, script, path], { encoding: 'utf8' });
    expect(done.stderr).toContain('EFBIG');
    expect(done.stdout).toBe('0\n1\n2\n3\n');
    const text = readFileSync(path, 'utf8');
    expect([text.length, text.endsWith('x\n')]).toEqual([4 * 2003, true]);
  }, 60_000);
});

/** A program that appends numbered lines for ever, and prints each number once it is on disk. */
async function bundledWriter(folder: string): Promise<string> {
  const source = new URL('../../helpers/journal-writer.ts', import.meta.url).pathname;
  await build({
    configFile: false,
    logLevel: 'error',
    build: {
      ssr: source,
      outDir: folder,
      emptyOutDir: false,
      rolldownOptions: { output: { entryFileNames: 'writer.mjs' } },
    },
    ssr: { noExternal: true },
  });
  return join(folder, 'writer.mjs');
}

/** @returns How many lines the program said are written before it was killed. */
function killWhileWriting(script: string, path: string, afterMs: number): Promise<number> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [script, path], { stdio: ['ignore', 'pipe', 'inherit'] });
    let told = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      if (told === '') setTimeout(() => child.kill('SIGKILL'), afterMs);
      told += text;
    });
    child.on('error', reject);
    child.on('close', () =>
      resolve(told.lastIndexOf('\n') < 0 ? 0 : told.slice(0, told.lastIndexOf('\n')).split('\n').length),
    );
  });
}
