import { randomUUID } from 'node:crypto';
import { link, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { processStart } from './process-start.ts';

/** Who holds a lock. */
export interface LockOwner {
  readonly pid: number;
  /** When that process was started, see `processStart`. */
  readonly started: string;
  /** The host run that took it. */
  readonly run: string;
}

/** The lock, ours or somebody else's. */
export type LockOutcome =
  | { readonly kind: 'taken'; readonly release: () => Promise<void> }
  | { readonly kind: 'held'; readonly owner: LockOwner };

/** More tries than there can be other programs at the same instant. */
const mostTries = 20;

/** This process as the owner of locks. */
export function thisOwner(run: string): LockOwner {
  return { pid: process.pid, started: processStart(process.pid) ?? '', run };
}

/**
 * Takes a lock file, unless a running process holds it.
 *
 * The file appears with its content in one step (a hard link), so that nobody ever reads half of it. A lock
 * whose process is gone, or whose id now belongs to a process started at another time, is stale and taken over.
 */
export async function takeLock(path: string, owner: LockOwner): Promise<LockOutcome> {
  const content = JSON.stringify(owner);
  for (let tries = 0; tries < mostTries; tries += 1) {
    if (await createWith(path, content)) return { kind: 'taken', release: () => release(path, content) };
    const found = await readIfThere(path);
    if (found === null) continue;
    const holder = readOwner(found);
    if (holder !== null && isHeld(holder)) return { kind: 'held', owner: holder };
    await setStaleAside(path, found);
  }
  throw new Error(`The lock ${path} changes hands without end`);
}

/** Whoever holds a lock now; null when nobody does. */
export async function findHolder(path: string): Promise<LockOwner | null> {
  const found = await readIfThere(path);
  const owner = found === null ? null : readOwner(found);
  return owner !== null && isHeld(owner) ? owner : null;
}

/** Whether the process that took the lock still runs. */
export function isHeld(owner: LockOwner): boolean {
  const started = processStart(owner.pid);
  return started !== null && (started === '' || owner.started === '' || started === owner.started);
}

async function createWith(path: string, content: string): Promise<boolean> {
  const draft = `${path}.${process.pid}-${randomUUID()}`;
  await writeFile(draft, content, { flag: 'wx', flush: true });
  try {
    await link(draft, path);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return false;
    // File systems without hard links: the content then follows the name by an instant.
    if (code === 'EPERM' || code === 'ENOTSUP' || code === 'ENOSYS')
      return await createPlainly(path, content);
    throw error;
  } finally {
    await rm(draft, { force: true });
  }
}

async function createPlainly(path: string, content: string): Promise<boolean> {
  try {
    await writeFile(path, content, { flag: 'wx', flush: true });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

/** Moves a stale lock away; if it was another's new one after all, puts that back. */
async function setStaleAside(path: string, stale: string): Promise<void> {
  const aside = `${path}.stale-${randomUUID()}`;
  try {
    await rename(path, aside);
  } catch {
    return;
  }
  const moved = await readIfThere(aside);
  if (moved !== null && moved !== stale) await link(aside, path).catch(() => undefined);
  await rm(aside, { force: true });
}

async function release(path: string, content: string): Promise<void> {
  if ((await readIfThere(path)) === content) await rm(path, { force: true });
}

async function readIfThere(path: string): Promise<string | null> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

function readOwner(text: string): LockOwner | null {
  try {
    const { pid, started, run } = JSON.parse(text) as Partial<LockOwner>;
    return typeof pid === 'number' && typeof started === 'string' && typeof run === 'string'
      ? { pid, started, run }
      : null;
  } catch {
    return null;
  }
}
