import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { homedir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { formatProblems } from '../../shared-core/problem/format-problem.ts';
import { dataFolder } from '../files/data-folder.ts';
import { ownKitFolders, ownRendererFolder } from '../files/kits-folder.ts';
import { findNote } from '../host/host-note.ts';
import type { HostNote } from '../host/host-note.ts';
import { hostUrl, startHost } from '../host/start-host.ts';
import { systemClock } from '../services/clock.ts';
import { openKit } from '../services/open-kit.ts';
import { chooseFace } from './choose-face.ts';
import type { FaceChoice, FaceFacts } from './choose-face.ts';
import { fetchPatienceMs, fetchRuntime, isWorthFetching } from './fetch-runtime.ts';
import { findRuntime, hasDisplay, openerOf } from './find-runtime.ts';
import { readStartOptions, startHelp } from './start-options.ts';
import type { StartOptions } from './start-options.ts';

/**
 * `npm start`: opens Kitwright in a window or in the browser, and says which.
 *
 * @returns The exit code, once it was closed.
 */
export async function main(argv: readonly string[]): Promise<number> {
  const options = readStartOptions(argv);
  if (typeof options === 'string') {
    console.error(`${options}\n\n${startHelp}`);
    return 2;
  }
  if (options.help) {
    console.log(startHelp);
    return 0;
  }
  const cwd = process.env['INIT_CWD'] ?? process.cwd();
  const kit = options.kit === null ? null : await openKit(resolve(cwd, options.kit));
  if (kit !== null && !kit.ok) {
    console.error(formatProblems(kit.problems));
    return 2;
  }
  const openPath = kit === null ? null : kit.value.folder.path;
  const surroundings = { env: process.env, platform: process.platform, home: homedir(), cwd };
  const folder = dataFolder(options.data, surroundings);
  const running = await findNote(folder);
  const choice = chooseFace(running ? findFacts(options) : await fetchIfMissing(findFacts(options)));
  if (running) return openRunning(running, openPath, choice);
  console.log(choice.why);
  return choice.face === 'window'
    ? openWindow(choice.runtime, folder, openPath)
    : serveBrowser(folder, openPath, options.port, choice.opens);
}

/** `node_modules/electron`. */
function electronFolder(): string {
  return fileURLToPath(new URL('../../node_modules/electron/', import.meta.url));
}

/** Asks for Electron's runtime once, where a window is possible and only that is missing. */
async function fetchIfMissing(facts: FaceFacts): Promise<FaceFacts> {
  if (!isWorthFetching(facts)) return facts;
  console.log("Fetching Electron's runtime for the window (npm start -- --browser goes without) …");
  await fetchRuntime(join(electronFolder(), 'install.js'), fetchPatienceMs);
  const { env, platform } = process;
  return { ...facts, runtime: findRuntime(electronFolder(), env['ELECTRON_OVERRIDE_DIST_PATH'], platform) };
}

function findFacts({ browser, noOpen }: StartOptions): FaceFacts {
  const { env, platform } = process;
  const packageFolder = electronFolder();
  return {
    wantsBrowser: browser,
    wantsNothingOpened: noOpen,
    hasWindowProgram: existsSync(windowProgram()),
    runtime: findRuntime(packageFolder, env['ELECTRON_OVERRIDE_DIST_PATH'], platform),
    hasDisplay: hasDisplay(env, platform),
    isRoot: platform === 'linux' && process.getuid?.() === 0,
  };
}

function windowProgram(): string {
  return fileURLToPath(new URL('../../build/node/main.js', import.meta.url));
}

/** A host is there already: it is opened, and this start ends. */
function openRunning({ port, token }: HostNote, openPath: string | null, choice: FaceChoice): number {
  const url = hostUrl(port, token, openPath);
  console.log(`Kitwright is running already. It is here:\n\n  ${url}\n`);
  if (choice.face === 'window' || choice.opens) openInBrowser(url);
  return 0;
}

async function openWindow(runtime: string, folder: string, openPath: string | null): Promise<number> {
  const args = [windowProgram(), '--data', folder, ...(openPath === null ? [] : [openPath])];
  const child = spawn(runtime, args, { stdio: 'inherit' });
  return new Promise((done) => {
    child.on('error', (error) => {
      console.error(
        `The window could not be opened: ${error.message}. npm start -- --browser opens the browser.`,
      );
      done(2);
    });
    child.on('close', (code) => done(code ?? 1));
  });
}

async function serveBrowser(
  folder: string,
  openPath: string | null,
  port: number,
  opens: boolean,
): Promise<number> {
  const stopped = new Promise<void>((stop) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, () => stop());
  });
  const host = await startHost({
    dataFolder: folder,
    clock: systemClock,
    port,
    rendererFolder: ownRendererFolder(),
    kitFolders: ownKitFolders(),
    openPath,
    report: (error) => console.error(error),
  }).catch((error: unknown) => (error instanceof Error ? error : new Error(String(error))));
  if (host instanceof Error) {
    console.error(whyNotStarted(host, folder, port));
    return 2;
  }
  if (host.settingsSetAside !== null) {
    console.log(`The settings could not be read. They are set aside as ${host.settingsSetAside}.`);
  }
  console.log(`Open this address:\n\n  ${host.url}\n\nBuilds are kept in ${folder}. Ctrl+C ends Kitwright.`);
  if (opens) openInBrowser(host.url);
  await stopped;
  await host.close();
  console.log('\nKitwright is closed.');
  return 0;
}

/** Opens the builder's own browser; that it fails is no harm, since the address was printed. */
function openInBrowser(url: string): void {
  const { command, args } = openerOf(process.platform);
  const child = spawn(command, [...args, url], { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
}

/** Why the host did not start, and what to do. */
function whyNotStarted(error: NodeJS.ErrnoException, folder: string, port: number): string {
  if (error.code === 'EADDRINUSE')
    return `Port ${port} is taken. Leave --port out, and any free one is used.`;
  if (error.code === 'EACCES' && port > 0) return `Port ${port} is not for this user. Leave --port out.`;
  const isFolder = ['EACCES', 'EPERM', 'EROFS', 'ENOTDIR', 'EEXIST', 'ENOSPC'].includes(error.code ?? '');
  return isFolder
    ? `The data folder ${folder} cannot be written (${error.code}). Choose another with --data DIR.`
    : `Kitwright could not start: ${error.message}`;
}
