import { mkdir, readFile, readdir, rename, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { ChainEnd } from '../../shared-core/journal/journal-entry.ts';
import { flushFolder, replaceFile } from './atomic-file.ts';
import type { KitFolder } from './kit-folder.ts';

/** The folder of practice power-ups inside the data folder: no build is ever looked for in it. */
export const practiceFolderName = 'practice';

/** The form of a build's name; nothing else becomes part of a path. */
const buildName = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** Where the things of one build are. */
export interface BuildPaths {
  readonly folder: string;
  readonly journal: string;
  readonly lock: string;
  /** The kit as it was when the build began: a kit folder of its own. */
  readonly kit: string;
  /** Where that kit was opened from. */
  readonly origin: string;
  /** The end of the chain, noted beside it, so that lines cut off at the end show. */
  readonly end: string;
  /** Photos of the build, named by their SHA-256. */
  readonly photos: string;
}

/** The paths of a build; null for a name that is not one. */
export function buildPaths(dataFolder: string, build: string): BuildPaths | null {
  if (!buildName.test(build)) return null;
  const folder = join(dataFolder, 'builds', build);
  return {
    folder,
    journal: join(folder, 'journal.jsonl'),
    lock: join(folder, 'lock'),
    kit: join(folder, 'kit'),
    origin: join(folder, 'origin.json'),
    end: join(folder, 'end.json'),
    photos: join(folder, 'photos'),
  };
}

/** The names of all builds, in no order. */
export async function listBuilds(dataFolder: string): Promise<readonly string[]> {
  try {
    const names = await readdir(join(dataFolder, 'builds'));
    return names.filter((name) => buildName.test(name));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return [];
    throw error;
  }
}

/**
 * Makes the folder of a new build: the first lines of its journal, and a copy of the kit.
 *
 * It appears under its name in one step, whole and flushed.
 */
export async function createBuildFolder(
  paths: BuildPaths,
  journalText: string,
  kit: KitFolder,
): Promise<void> {
  const builds = dirname(paths.folder);
  const draft = `${paths.folder}.new`;
  await mkdir(builds, { recursive: true });
  await mkdir(draft);
  try {
    await writeKit(join(draft, 'kit'), kit);
    const origin = JSON.stringify({ kitPath: kit.path });
    await writeFile(join(draft, 'origin.json'), origin, { flush: true });
    await writeFile(join(draft, 'journal.jsonl'), journalText, { flush: true });
    await flushFolder(draft);
    await rename(draft, paths.folder);
  } catch (error) {
    await rm(draft, { recursive: true, force: true });
    throw error;
  }
  await flushFolder(builds);
}

/** The folder of a changed kit that was accepted, by its hash; the name of anything else is refused. */
export function changedKitPath(paths: BuildPaths, kitHash: string): string | null {
  return /^[0-9a-f]{64}$/.test(kitHash) ? join(paths.folder, 'kits', kitHash) : null;
}

/** Keeps a changed kit beside the one that the build began with; whole and flushed, or not at all. */
export async function keepChangedKit(paths: BuildPaths, kit: KitFolder): Promise<void> {
  const path = changedKitPath(paths, kit.hash);
  if (path === null) throw new Error(`This is not a kit hash: ${kit.hash}`);
  const draft = `${path}.new`;
  await rm(draft, { recursive: true, force: true });
  await rm(path, { recursive: true, force: true });
  await writeKit(draft, kit);
  await flushFolder(draft);
  await rename(draft, path);
  await flushFolder(dirname(path));
}

async function writeKit(folder: string, kit: KitFolder): Promise<void> {
  await mkdir(folder, { recursive: true });
  for (const [path, bytes] of kit.files) {
    const copy = join(folder, ...path.split('/'));
    await mkdir(dirname(copy), { recursive: true });
    await writeFile(copy, bytes, { flush: true });
  }
}

/** Where a build's kit was opened from; the copy itself where that is not known any more. */
export async function readOrigin(paths: BuildPaths): Promise<string> {
  const value = await readJson(paths.origin);
  const path = (value as { readonly kitPath?: unknown } | null)?.kitPath;
  return typeof path === 'string' ? path : paths.kit;
}

/** The chain's end as noted; null where there is no note that can be read. */
export async function readEnd(paths: BuildPaths): Promise<ChainEnd | null> {
  const end = (await readJson(paths.end)) as Partial<ChainEnd> | null;
  return typeof end?.seq === 'number' && typeof end.hash === 'string'
    ? { seq: end.seq, hash: end.hash }
    : null;
}

/** Notes the chain's end. A note that is lost or late does no harm: the journal itself is flushed. */
export async function noteEnd(paths: BuildPaths, end: ChainEnd): Promise<void> {
  await writeFile(paths.end, JSON.stringify(end));
}

/** Something computed, kept with the build; null where there is none that can be read. */
export function readKept(paths: BuildPaths, name: string): Promise<unknown> {
  return readJson(join(paths.folder, 'kept', `${name}.json`));
}

/** Keeps something computed with the build. */
export async function keep(paths: BuildPaths, name: string, value: unknown): Promise<void> {
  await mkdir(join(paths.folder, 'kept'), { recursive: true });
  await replaceFile(join(paths.folder, 'kept', `${name}.json`), JSON.stringify(value));
}

async function readJson(path: string): Promise<unknown> {
  try {
    return JSON.parse(await readFile(path, 'utf8')) as unknown;
  } catch {
    return null;
  }
}
