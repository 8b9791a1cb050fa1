import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync, readdirSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, join } from 'node:path';

/**
 * The machine as the search sees it. Everything it asks or does goes through here, so that tests can
 * describe a machine instead of owning one.
 *
 * @typedef {object} Machine
 * @property {Readonly<Record<string, string | undefined>>} env Environment variables.
 * @property {string} home The user's home folder.
 * @property {NodeJS.Platform} platform Operating system.
 * @property {boolean} isRoot Whether packages of the system may be installed.
 * @property {(path: string) => boolean} isProgram Whether a file is there and may be run.
 * @property {(path: string) => readonly string[]} list Names in a folder; empty where it is absent.
 * @property {(command: string, args: readonly string[]) => boolean} run Runs a command; true when it worked.
 */

/** @typedef {{ ok: true, path: string, how: string } | { ok: false, message: string }} BrowserSearch */

/** Names a Chromium goes by on the PATH, the distribution's first. */
const programNames = ['chromium', 'chromium-browser', 'google-chrome'];

/** Where Playwright puts the program inside one of its `chromium-NNNN` folders. */
const insideCache = [
  'chrome-linux64/chrome',
  'chrome-linux/chrome',
  'chrome-mac-arm64/Google Chrome for Testing.app/Contents/MacOS/Google Chrome for Testing',
  'chrome-mac-x64/Google Chrome for Testing.app/Contents/MacOS/Google Chrome for Testing',
  'chrome-mac/Chromium.app/Contents/MacOS/Chromium',
  'chrome-win64/chrome.exe',
  'chrome-win/chrome.exe',
];

/**
 * Look for a Chromium that is already on the machine: $CHROMIUM, then the PATH, then Playwright's cache.
 *
 * A $CHROMIUM that names no program is refused rather than passed over: whoever set it meant it.
 *
 * @param {Machine} machine The machine to look at.
 * @returns {BrowserSearch} The program and how it was found, or why not.
 */
export function findInstalledBrowser(machine) {
  const named = machine.env['CHROMIUM'];
  if (named) {
    if (machine.isProgram(named)) return { ok: true, path: named, how: '$CHROMIUM' };
    return { ok: false, message: `CHROMIUM is set to ${named}, which is not a program that can be run.` };
  }
  for (const name of programNames) {
    const path = findOnPath(machine, name);
    if (path) return { ok: true, path, how: 'PATH' };
  }
  const cached = findInCache(machine);
  if (cached) return { ok: true, path: cached, how: "Playwright's cache" };
  return { ok: false, message: 'No Chromium on the PATH or in the cache of Playwright.' };
}

/**
 * Find a Chromium, installing one where none is there: Playwright's download first, then apt.
 *
 * @param {Machine} [machine] The machine to look at; this one by default.
 * @returns {BrowserSearch} The program and how it was found; on failure a message that says what to do.
 */
export function findBrowser(machine = thisMachine()) {
  const installed = findInstalledBrowser(machine);
  if (installed.ok || machine.env['CHROMIUM']) return installed;

  if (machine.run('npx', ['playwright', 'install', 'chromium'])) {
    const downloaded = findInCache(machine);
    if (downloaded && machine.run(downloaded, ['--version'])) {
      return { ok: true, path: downloaded, how: "Playwright's download" };
    }
  }
  if (machine.isRoot && findOnPath(machine, 'apt-get')) {
    machine.run('apt-get', ['update', '-q']);
    machine.run('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'chromium']);
    const path = findOnPath(machine, 'chromium');
    if (path) return { ok: true, path, how: 'apt' };
  }
  return {
    ok: false,
    message:
      'No Chromium found, and none could be installed. Install one (Debian: apt-get install chromium; ' +
      'elsewhere: npx playwright install --with-deps chromium) or set CHROMIUM to the path of its program.',
  };
}

/**
 * The machine this runs on.
 *
 * @returns {Machine} Live view; nothing is cached.
 */
export function thisMachine() {
  return {
    env: process.env,
    home: homedir(),
    platform: process.platform,
    isRoot: process.getuid?.() === 0,
    isProgram: (path) => {
      try {
        accessSync(path, constants.X_OK);
        return true;
      } catch {
        return false;
      }
    },
    list: (path) => (existsSync(path) ? readdirSync(path) : []),
    run: (command, args) => {
      const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
      const shell = process.platform === 'win32';
      return spawnSync(command, args, { stdio: 'ignore', env, shell, timeout: 300_000 }).status === 0;
    },
  };
}

/**
 * The program of a name on the PATH.
 *
 * @param {Machine} machine The machine to look at.
 * @param {string} name Program name without folder.
 * @returns {string | undefined} Its full path.
 */
export function findOnPath(machine, name) {
  const names = machine.platform === 'win32' ? [`${name}.exe`, `${name}.cmd`] : [name];
  return (machine.env['PATH'] ?? '')
    .split(delimiter)
    .filter((folder) => folder !== '')
    .flatMap((folder) => names.map((file) => join(folder, file)))
    .find((path) => machine.isProgram(path));
}

/**
 * The newest Chromium in Playwright's cache.
 *
 * @param {Machine} machine The machine to look at.
 * @returns {string | undefined} Its full path.
 */
function findInCache(machine) {
  const folder = machine.env['PLAYWRIGHT_BROWSERS_PATH'] || defaultCache(machine);
  const builds = machine
    .list(folder)
    .filter((name) => /^chromium-\d+$/.test(name))
    .sort((a, b) => Number(b.slice(9)) - Number(a.slice(9)));
  return builds
    .flatMap((build) => insideCache.map((inside) => join(folder, build, inside)))
    .find((path) => machine.isProgram(path));
}

/**
 * Where Playwright keeps its browsers when nothing else is said.
 *
 * @param {Machine} machine The machine to look at.
 * @returns {string} Folder path.
 */
function defaultCache(machine) {
  if (machine.platform === 'darwin') return join(machine.home, 'Library/Caches/ms-playwright');
  if (machine.platform === 'win32') return join(machine.home, 'AppData/Local/ms-playwright');
  return join(machine.home, '.cache/ms-playwright');
}
