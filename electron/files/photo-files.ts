import { mkdir, readFile, readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { flushFolder, replaceFile } from './atomic-file.ts';
import type { BuildPaths } from './build-folder.ts';
import type { CleanPhoto } from './clean-photo.ts';
import { sha256 } from './sha256.ts';

/** Name of a photo: its SHA-256 and what it is. Nothing else becomes part of a path. */
const photoName = /^([0-9a-f]{64})\.(jpg|png)$/;

/** A photo of a build, as it is on the disk. */
export interface StoredPhoto {
  readonly file: string;
  readonly bytes: Uint8Array;
  readonly type: 'image/jpeg' | 'image/png';
}

/** Keeps a photo beside the journal, named by its SHA-256: whole and flushed before anything tells of it. */
export async function keepPhoto(
  paths: BuildPaths,
  { bytes, ending }: CleanPhoto,
): Promise<{ readonly file: string; readonly sha256: string }> {
  const hash = sha256(bytes);
  const file = `${hash}.${ending}`;
  await mkdir(paths.photos, { recursive: true });
  await flushFolder(paths.folder);
  await replaceFile(join(paths.photos, file), bytes);
  return { file, sha256: hash };
}

/** A photo by its name; null where there is none, or where it is not any more what was kept. */
export async function readPhoto(paths: BuildPaths, file: string): Promise<StoredPhoto | null> {
  const [, hash, ending] = photoName.exec(file) ?? [];
  if (hash === undefined) return null;
  try {
    const bytes = await readFile(join(paths.photos, file));
    if (sha256(bytes) !== hash) return null;
    return { file, bytes, type: ending === 'png' ? 'image/png' : 'image/jpeg' };
  } catch {
    return null;
  }
}

/** How much the photos of a build take up, in bytes. */
export async function photoBytes(paths: BuildPaths): Promise<number> {
  const names = await readdir(paths.photos).catch(() => []);
  const sizes = await Promise.all(
    names.map((name) =>
      stat(join(paths.photos, name)).then(
        ({ size }) => size,
        () => 0,
      ),
    ),
  );
  return sizes.reduce((sum, size) => sum + size, 0);
}
