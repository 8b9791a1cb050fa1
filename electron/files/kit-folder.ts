import { constants } from 'node:fs';
import { open, readdir, realpath, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { sha256 } from './sha256.ts';

/** A kit's folder as it was read: nothing in it is looked at again on the disk. */
export interface KitFolder {
  /** Where it really is. */
  readonly path: string;
  /** The text of kit.yaml. */
  readonly text: string;
  /** Paths inside the folder, with forward slashes, to content; sorted by path. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** The kit hash, see `kitHash`. */
  readonly hash: string;
}

/** The file that makes a folder a kit. */
export const kitFileName = 'kit.yaml';

/** Kits come from strangers: far above any real kit, far below what would hurt. */
export const kitFolderLimits = { files: 500, depth: 6, fileBytes: 10_000_000, totalBytes: 64_000_000 };

/** Endings of files that are hashed as text, so that a checkout with other line ends is the same kit. */
const textEndings = ['.yaml', '.yml', '.md', '.txt', '.svg', '.json', '.csv'];

/**
 * Reads a kit's folder: capped, without following a link, without leaving the folder.
 *
 * Files and folders whose names begin with a point belong to other programs and are passed over.
 *
 * @param path The folder, or its kit.yaml.
 */
export async function readKitFolder(path: string): Promise<Result<KitFolder>> {
  const found = await findFolder(path);
  if (!found.ok) return found;
  const folder = found.value;
  const files = new Map<string, Uint8Array>();
  const problem = await readInto(files, folder, '', 0);
  if (problem) return fail(problem);
  const kitFile = files.get(kitFileName);
  if (!kitFile) {
    return fail({
      code: 'file/not-a-kit',
      severity: 'error',
      message: `There is no ${kitFileName} in "${path}"`,
      hint: 'A kit is a folder that holds a kit.yaml: name that folder.',
    });
  }
  const text = readText(kitFile);
  if (text === null) {
    return fail({
      code: 'file/not-text',
      severity: 'error',
      message: `${kitFileName} is not UTF-8 text`,
      file: join(path, kitFileName),
      hint: 'Save it as UTF-8 in your editor.',
    });
  }
  const sorted = new Map([...files].sort(([one], [other]) => (one < other ? -1 : 1)));
  return succeed({ path: folder, text, files: sorted, hash: kitHash(sorted) });
}

/**
 * The kit hash: SHA-256 over the sorted list of files, one line each as `sha256sum` prints them.
 *
 * Text is hashed as UTF-8 without byte order mark and with LF.
 */
export function kitHash(files: ReadonlyMap<string, Uint8Array>): string {
  const lines = [...files]
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([path, bytes]) => `${sha256(asHashed(path, bytes))}  ${path}\n`);
  return sha256(lines.join(''));
}

function asHashed(path: string, bytes: Uint8Array): string | Uint8Array {
  if (!textEndings.some((ending) => path.toLowerCase().endsWith(ending))) return bytes;
  return readText(bytes)?.replaceAll('\r\n', '\n') ?? bytes;
}

/** UTF-8 without its byte order mark; null when it is not UTF-8. */
function readText(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}

async function findFolder(path: string): Promise<Result<string>> {
  try {
    const real = await realpath(path);
    if ((await stat(real)).isDirectory()) return succeed(real);
    if (real.endsWith(kitFileName)) return succeed(real.slice(0, -kitFileName.length - 1) || '/');
    const message = `"${path}" is not a folder`;
    const hint = 'A kit is a folder that holds a kit.yaml: name that folder.';
    return fail({ code: 'file/not-a-kit', severity: 'error', message, hint });
  } catch (error) {
    return fail(systemProblem(error, path));
  }
}

/** What the file system refused, in words. */
export function systemProblem(error: unknown, path: string): KitProblem {
  const code = (error as NodeJS.ErrnoException).code ?? String(error);
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    const message = `There is no "${path}"`;
    return { code: 'file/not-found', severity: 'error', message, hint: 'Look at the path again.' };
  }
  if (code === 'ELOOP') return linkProblem(path);
  const why = code === 'EACCES' || code === 'EPERM' ? 'this user may not read it' : code;
  const message = `"${path}" cannot be read: ${why}`;
  return { code: 'file/unreadable', severity: 'error', message, hint: 'Look at its permissions.' };
}

function linkProblem(path: string): KitProblem {
  const message = `"${path}" is a link; a kit holds plain files and folders only`;
  return { code: 'file/link', severity: 'error', message, hint: 'Put a copy of the file in its place.' };
}

async function readInto(
  files: Map<string, Uint8Array>,
  folder: string,
  inside: string,
  depth: number,
): Promise<KitProblem | null> {
  if (depth > kitFolderLimits.depth) return tooMany(`more than ${kitFolderLimits.depth} folders deep`);
  try {
    const entries = await readdir(join(folder, inside), { withFileTypes: true });
    for (const entry of entries.sort((one, other) => (one.name < other.name ? -1 : 1))) {
      if (entry.name.startsWith('.')) continue;
      const path = inside === '' ? entry.name : `${inside}/${entry.name}`;
      const problem = entry.isSymbolicLink()
        ? linkProblem(path)
        : entry.isDirectory()
          ? await readInto(files, folder, path, depth + 1)
          : entry.isFile()
            ? await readFileInto(files, folder, path)
            : linkProblem(path);
      if (problem) return problem;
    }
    return null;
  } catch (error) {
    return systemProblem(error, join(folder, inside));
  }
}

function tooMany(what: string): KitProblem {
  const message = `The folder holds ${what}: too much for a kit`;
  const hint = 'Is this the kit’s own folder? It holds kit.yaml and pictures, nothing else.';
  return { code: 'file/too-many', severity: 'error', message, hint };
}

async function readFileInto(
  files: Map<string, Uint8Array>,
  folder: string,
  path: string,
): Promise<KitProblem | null> {
  if (files.size >= kitFolderLimits.files) return tooMany(`more than ${kitFolderLimits.files} files`);
  // Windows has no O_NOFOLLOW; there the type in the folder's list has to do.
  const file = await open(join(folder, path), constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0));
  try {
    const { size } = await file.stat();
    const total = [...files.values()].reduce((sum, { length }) => sum + length, size);
    if (size > kitFolderLimits.fileBytes || total > kitFolderLimits.totalBytes) {
      const message = `"${path}" is too big for a kit: ${Math.round(size / 1e6)} MB`;
      const hint = `A file has at most ${kitFolderLimits.fileBytes / 1e6} MB, a kit at most ${kitFolderLimits.totalBytes / 1e6} MB.`;
      return { code: 'file/too-big', severity: 'error', message, hint };
    }
    files.set(path, await file.readFile());
    return null;
  } finally {
    await file.close();
  }
}
