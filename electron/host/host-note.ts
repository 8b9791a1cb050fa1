import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { replaceFile } from '../files/atomic-file.ts';
import { isHeld, thisOwner } from '../files/lock-file.ts';
import type { LockOwner } from '../files/lock-file.ts';

/** Where a running host can be reached; only this user can read it. */
export interface HostNote extends LockOwner {
  readonly port: number;
  readonly token: string;
}

/** Leaves the note in the data folder. */
export async function leaveNote(
  dataFolder: string,
  run: string,
  port: number,
  token: string,
): Promise<HostNote> {
  const note = { ...thisOwner(run), port, token };
  await replaceFile(pathOf(dataFolder), JSON.stringify(note), 0o600);
  return note;
}

/** The note of a host that runs now; null when there is none. */
export async function findNote(dataFolder: string): Promise<HostNote | null> {
  try {
    const note = JSON.parse(await readFile(pathOf(dataFolder), 'utf8')) as Partial<HostNote>;
    const { pid, started, run, port, token } = note;
    const isWhole =
      typeof pid === 'number' &&
      typeof started === 'string' &&
      typeof run === 'string' &&
      typeof port === 'number' &&
      typeof token === 'string';
    return isWhole && isHeld({ pid, started, run }) ? { pid, started, run, port, token } : null;
  } catch {
    return null;
  }
}

/** Takes our own note away. */
export async function takeNoteAway(dataFolder: string, run: string): Promise<void> {
  const note = await findNote(dataFolder);
  if (note?.run === run) await rm(pathOf(dataFolder), { force: true });
}

function pathOf(dataFolder: string): string {
  return join(dataFolder, 'host.json');
}
