import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundle, missingEntries } from '../../../electron/bundle/bundle.mjs';
import { nodeEntries, preloadEntry } from '../../../electron/bundle/entries.mjs';
import { writeSmallProject } from '../../helpers/small-project.ts';

/** The smallest project that can be built: every entry does one thing that its build must keep. */
const files: Readonly<Record<string, string>> = {
  ...Object.fromEntries(Object.values(nodeEntries).map((path) => [path, 'export const main = () => 0;\n'])),
  'shared-core/units/shared.ts':
    "import { parse } from 'yaml';\nexport const read = (text: string): unknown => parse(text);\n",
  'electron/cli/main.ts':
    "import { read } from '../../shared-core/units/shared.ts';\nexport const main = () => read('7');\nexport const kits = new URL('../../kits/', import.meta.url).href;\n",
  'electron/host/main.ts':
    "import { Worker } from 'node:worker_threads';\nimport { read } from '../../shared-core/units/shared.ts';\nexport const start = () => new Worker(new URL('./engine-worker.js', import.meta.url));\nexport const main = () => read('8');\n",
  'electron/main/main.ts':
    "import { app } from 'electron';\nimport write from 'write-file-atomic';\nexport const main = () => app.quit(write);\n",
  [preloadEntry]:
    "import { contextBridge } from 'electron';\nimport { scaleLog } from 'd3-scale';\ncontextBridge.exposeInMainWorld('kitwright', { scaleLog });\n",
  'renderer/index.html':
    '<!doctype html>\n<html lang="en">\n<head><title>Kitwright</title></head>\n<body><div id="app"></div><script type="module" src="./app/main.tsx"></script></body>\n</html>\n',
  'renderer/app/main.tsx':
    "import styles from './main.module.css';\nconst root = document.getElementById('app');\nif (root) root.className = styles['page'] ?? '';\n",
  'renderer/app/main.module.css': '.page { margin: 0; }\n',
};

let project: ReturnType<typeof writeSmallProject>;
const built = (path: string) => readFileSync(join(project.folder, 'build', path), 'utf8');

beforeAll(async () => {
  project = writeSmallProject(files);
  await Promise.all((['node', 'preload', 'renderer'] as const).map((part) => bundle(project.folder, part)));
}, 30_000);

afterAll(() => project.remove());

describe('the build', () => {
  it('writes one ES module for each program in the list', () => {
    const names = readdirSync(join(project.folder, 'build/node'));
    expect(names).toEqual(expect.arrayContaining(Object.keys(nodeEntries).map((name) => `${name}.js`)));
  });

  it("builds the core's packages into the programs for Node, and leaves the others outside", () => {
    const shared = readdirSync(join(project.folder, 'build/node')).filter((name) => name.endsWith('.js'));
    const text = shared.map((name) => built(`node/${name}`)).join('\n');
    expect(text).not.toMatch(/^import .* from ["']yaml["']/m);
    expect(text).toMatch(/from ["']write-file-atomic["']/);
    expect(text).toMatch(/from ["']electron["']/);
  });

  it('gives programs that run, with the root where the sources see it', async () => {
    const program = (await import(
      /* @vite-ignore */ pathToFileURL(join(project.folder, 'build/node/cli.js')).href
    )) as { main: () => unknown; kits: string };
    expect(program.main()).toBe(7);
    expect(program.kits).toBe(pathToFileURL(join(project.folder, 'kits/')).href);
  });

  it('keeps the path of the engine worker beside the host', () => {
    expect(built('node/host.js')).toMatch(/new URL\(["'`]\.\/engine-worker\.js["'`],\s*import\.meta\.url\)/);
  });

  it('writes a preload that requires Electron and nothing else', () => {
    const required = [...built('preload/preload.cjs').matchAll(/\brequire\(["'`]([^"'`]+)["'`]\)/g)].map(
      (match) => match[1],
    );
    expect([...new Set(required)]).toEqual(['electron']);
    expect(built('preload/preload.cjs')).not.toMatch(/^\s*(import|export)\s/m);
    expect(readdirSync(join(project.folder, 'build/preload'))).toEqual(['preload.cjs']);
  });

  it('writes a page without inline script or style, with relative addresses', () => {
    const page = built('renderer/index.html');
    expect(page).toMatch(/<script type="module" crossorigin src="\.\/assets\/[^"]+\.js"><\/script>/);
    expect(page).toMatch(/<link rel="stylesheet" crossorigin href="\.\/assets\/[^"]+\.css">/);
    expect(page).not.toMatch(/<style|<script(?![^>]*\bsrc=)/);
  });

  it('names every missing source', async () => {
    const empty = writeSmallProject({ 'electron/cli/main.ts': 'export const main = () => 0;\n' });
    expect(missingEntries(empty.folder, 'preload')).toEqual([preloadEntry]);
    await expect(bundle(empty.folder, 'node', [])).rejects.toThrow(/electron\/host\/main\.ts.*not found/);
    empty.remove();
  });

  it('leaves out a source whose absence is forgiven, and says which', async () => {
    const { 'electron/start/start.ts': _left, ...others } = files;
    const early = writeSmallProject(others);
    expect(await bundle(early.folder, 'node', ['electron/start/start.ts'])).toEqual([
      'electron/start/start.ts',
    ]);
    expect(readdirSync(join(early.folder, 'build/node'))).toContain('cli.js');
    early.remove();
  });
});
