import { join } from 'node:path';
import { checkKitFile } from '../../shared-core/kit/check-kit.ts';
import { readKitFile } from '../../shared-core/kit/read-kit.ts';
import type { KitFile } from '../../shared-core/kit/read-kit.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import { kitFileName, readKitFolder } from '../files/kit-folder.ts';
import type { KitFolder } from '../files/kit-folder.ts';

/** A kit's folder and what its kit file says. */
export interface KitOnDisk extends KitFile {
  readonly folder: KitFolder;
}

/**
 * Opens a kit by the path of its folder: readable is enough.
 *
 * @param path As given: problems name the file by it.
 */
export function openKit(path: string): Promise<Result<KitOnDisk>> {
  return openWith(path, (folder, file) => readKitFile(folder.text, file));
}

/** Opens a kit to build it: refused when anything in it is wrong or dangerous. */
export function openCheckedKit(path: string): Promise<Result<KitOnDisk>> {
  return openWith(path, (folder, file) => checkKitFile(folder.text, file, [...folder.files.keys()]));
}

async function openWith(
  path: string,
  read: (folder: KitFolder, file: string) => Result<KitFile>,
): Promise<Result<KitOnDisk>> {
  const folder = await readKitFolder(path);
  if (!folder.ok) return folder;
  const file = path.endsWith(kitFileName) ? path : join(path, kitFileName);
  const kit = read(folder.value, file);
  return kit.ok ? succeed({ ...kit.value, folder: folder.value }, kit.warnings) : kit;
}
