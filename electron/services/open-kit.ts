import { join } from 'node:path';
import { checkKitFile } from '../../shared-core/kit/check-kit.ts';
import { readKitFile } from '../../shared-core/kit/read-kit.ts';
import type { KitFile } from '../../shared-core/kit/read-kit.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
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
  return openWith('read', path, (folder, file) => readKitFile(folder.text, file));
}

/** Opens a kit to build it: refused when anything in it is wrong or dangerous. */
export function openCheckedKit(path: string): Promise<Result<KitOnDisk>> {
  return openWith('checked', path, (folder, file) =>
    checkKitFile(folder.text, file, [...folder.files.keys()]),
  );
}

/** Kits that are remembered: the shelf opens the copy that each build keeps, and these are few and alike. */
const mostRemembered = 12;

/** Good readings by how they were read and the kit's hash, the last used last. They are never changed. */
const remembered = new Map<string, { readonly kit: KitFile; readonly warnings: readonly KitProblem[] }>();

/**
 * Opens a kit, or remembers one of the same hash: the hash is of everything in the folder, looked at anew each
 * time, so that equal hashes read alike whatever their folders are called.
 */
async function openWith(
  how: 'read' | 'checked',
  path: string,
  read: (folder: KitFolder, file: string) => Result<KitFile>,
): Promise<Result<KitOnDisk>> {
  const folder = await readKitFolder(path);
  if (!folder.ok) return folder;
  const file = path.endsWith(kitFileName) ? path : join(path, kitFileName);
  const key = `${how} ${folder.value.hash}`;
  const known = remembered.get(key);
  if (known) {
    remember(key, known);
    const { kit, source } = known.kit;
    const warnings = known.warnings.map((warning) => ({ ...warning, file }));
    return succeed({ kit, source: { ...source, file }, folder: folder.value }, warnings);
  }
  const kit = read(folder.value, file);
  if (!kit.ok) return kit;
  remember(key, { kit: kit.value, warnings: kit.warnings });
  return succeed({ ...kit.value, folder: folder.value }, kit.warnings);
}

function remember(key: string, kit: { kit: KitFile; warnings: readonly KitProblem[] }): void {
  remembered.delete(key);
  remembered.set(key, kit);
  const [oldest] = remembered.keys();
  if (remembered.size > mostRemembered && oldest !== undefined) remembered.delete(oldest);
}
