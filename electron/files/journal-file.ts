import { open, readFile, writeFile } from 'node:fs/promises';
import type { FileHandle } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { flushFolder } from './atomic-file.ts';

/** Reads a journal without touching it. */
export function readJournalFile(path: string): Promise<string> {
  return readFile(path, 'utf8');
}

/**
 * A journal open for appending.
 *
 * A line is on disk before `append` resolves. A line that could not be written whole is taken back; if even
 * that fails, the file is closed to further lines, since they would run into the broken one.
 */
export class JournalFile {
  readonly path: string;
  private readonly file: FileHandle;
  private size: number;
  private isBroken = false;
  private queue: Promise<void> = Promise.resolve();

  private constructor(path: string, file: FileHandle, size: number) {
    this.path = path;
    this.file = file;
    this.size = size;
  }

  /** Makes a new journal with its first line, given with its newline. Refuses where the file exists. */
  static async create(path: string, firstLine: string): Promise<JournalFile> {
    const file = await open(path, 'ax');
    const journal = new JournalFile(path, file, 0);
    await journal.append(firstLine);
    await flushFolder(dirname(path));
    return journal;
  }

  /**
   * Opens a journal that exists. What comes after its sound bytes is cut off and kept as `<journal>.cut-<n>`.
   *
   * @param keepBytes How much of it holds, in bytes.
   * @returns The journal, and the name of the file with what was cut; null when nothing was.
   */
  static async open(
    path: string,
    keepBytes: number,
  ): Promise<{ readonly journal: JournalFile; readonly cutFile: string | null }> {
    const rest = (await readFile(path)).subarray(keepBytes);
    if (rest.length === 0)
      return { journal: new JournalFile(path, await open(path, 'a'), keepBytes), cutFile: null };
    const cutFile = await keepAside(path, rest);
    const file = await open(path, 'r+');
    try {
      await file.truncate(keepBytes);
      await file.sync();
    } finally {
      await file.close();
    }
    return { journal: new JournalFile(path, await open(path, 'a'), keepBytes), cutFile };
  }

  /** Adds one line, given with its newline; it is flushed to the disk when this resolves. */
  append(line: string): Promise<void> {
    const done = this.queue.then(() => this.writeLine(line));
    this.queue = done.catch(() => undefined);
    return done;
  }

  async close(): Promise<void> {
    await this.queue;
    await this.file.close();
  }

  private async writeLine(line: string): Promise<void> {
    if (this.isBroken) throw new Error(`${this.path} ends in a line that could not be written`);
    const bytes = Buffer.from(line, 'utf8');
    try {
      await this.file.appendFile(bytes);
      await this.file.datasync();
      this.size += bytes.length;
    } catch (error) {
      await this.takeBack();
      throw error;
    }
  }

  private async takeBack(): Promise<void> {
    try {
      await this.file.truncate(this.size);
      await this.file.datasync();
    } catch {
      this.isBroken = true;
    }
  }
}

async function keepAside(path: string, bytes: Uint8Array): Promise<string> {
  for (let number = 1; ; number += 1) {
    const aside = join(dirname(path), `${basename(path)}.cut-${number}`);
    try {
      await writeFile(aside, bytes, { flag: 'wx', flush: true });
      await flushFolder(dirname(path));
      return aside;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    }
  }
}
