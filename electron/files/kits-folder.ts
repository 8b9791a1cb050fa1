import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { kitFileName } from './kit-folder.ts';

/** The kits that come with the app: two folders up from the sources and from the build. */
export function ownKitFolders(
  kits = fileURLToPath(new URL('../../kits/', import.meta.url)),
): readonly string[] {
  if (!existsSync(kits)) return [];
  return readdirSync(kits, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => join(kits, name))
    .filter((folder) => existsSync(join(folder, kitFileName)))
    .sort();
}

/** The built page. */
export function ownRendererFolder(): string {
  return fileURLToPath(new URL('../../build/renderer/', import.meta.url));
}
