import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

/** How long one program waits for another that is building, in milliseconds (ms): several builds' worth. */
const patienceMs = 90_000;

/** Folders whose files go into a build. */
const sourceFolders = ['shared-core', 'electron', 'renderer'];

/** @typedef {{ ok: true, path: string } | { ok: false, message: string }} BuiltProgram */

/**
 * Give the path of a built program, building first where there is no build.
 *
 * Two programs started at once do not build twice: the second waits for the first.
 *
 * @param {string} name Name of the program in build/node, without `.js`.
 * @param {{ root?: string, whole?: boolean, whenStale?: boolean }} [options] `root`: the repository; `whole`:
 *   the screen is needed too, not only the programs; `whenStale`: also build when a source is newer.
 * @returns {Promise<BuiltProgram>} The program's file; on failure a message that says what to do.
 */
export async function ensureBuild(name, options = {}) {
  const {
    root = fileURLToPath(new URL('../../', import.meta.url)),
    whole = false,
    whenStale = false,
  } = options;
  const path = join(root, 'build/node', `${name}.js`);
  const needed = [path, ...(whole ? [join(root, 'build/renderer/index.html')] : [])];
  const isGood = () =>
    needed.every(existsSync) && !(whenStale && newestSource(root) > Math.min(...needed.map(builtAt)));
  if (isGood()) return { ok: true, path };
  if (!existsSync(join(root, 'node_modules/vite'))) {
    return {
      ok: false,
      message: 'Kitwright is not built, and its build tools are not installed: run npm ci.',
    };
  }

  const lock = join(root, 'build/.building');
  const giveUpAt = performance.now() + patienceMs;
  while (!takeLock(lock)) {
    if (performance.now() > giveUpAt) {
      return { ok: false, message: `Another build does not end. If none is running, delete ${lock}.` };
    }
    await wait(100);
  }
  try {
    if (isGood()) return { ok: true, path };
    const script = join(root, 'electron/bundle/build.mjs');
    const { status, stdout, stderr } = spawnSync(process.execPath, [script, ...(whole ? [] : ['node'])], {
      cwd: root,
      encoding: 'utf8',
    });
    if (status === 0 && needed.every(existsSync)) return { ok: true, path };
    return { ok: false, message: `Kitwright could not be built (npm run build):\n${stdout}${stderr}` };
  } finally {
    rmSync(lock, { recursive: true, force: true });
  }
}

/**
 * @param {string} path A built file that exists.
 * @returns {number} When it was written, in milliseconds since 1970.
 */
const builtAt = (path) => statSync(path).mtimeMs;

/**
 * @param {string} lock Folder that stands for "someone is building".
 * @returns {boolean} Whether it is ours now.
 */
function takeLock(lock) {
  mkdirSync(join(lock, '..'), { recursive: true });
  try {
    mkdirSync(lock);
    return true;
  } catch {
    return false;
  }
}

/**
 * @param {string} root The repository.
 * @returns {number} When the newest source was changed, in milliseconds since 1970.
 */
function newestSource(root) {
  return Math.max(
    0,
    ...sourceFolders.flatMap((folder) =>
      readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => statSync(join(entry.parentPath, entry.name)).mtimeMs),
    ),
  );
}
