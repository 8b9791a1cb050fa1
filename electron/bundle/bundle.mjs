import { existsSync } from 'node:fs';
import { join } from 'node:path';
import react from '@vitejs/plugin-react';
import { build } from 'vite';
import {
  insideConditions,
  insidePackages,
  mayBeAbsent,
  nodeEntries,
  preloadEntry,
  rendererFiles,
  rendererFolder,
} from './entries.mjs';

/** The oldest Node that must run the build. */
const nodeTarget = 'node20.19';

/** @typedef {'node' | 'preload' | 'renderer'} BundlePart The three things that are built. */

/**
 * Settings that all parts share: no config file is looked up, and only trouble is printed.
 *
 * @param {string} folder The repository.
 * @returns {import('vite').InlineConfig} Start of a configuration.
 */
const common = (folder) => ({ configFile: false, root: folder, logLevel: 'warn', publicDir: false });

/**
 * Files that a part needs and that are not there.
 *
 * @param {string} folder The repository.
 * @param {BundlePart} part What is to be built.
 * @returns {string[]} Paths from the repository's root.
 */
export function missingEntries(folder, part) {
  return neededEntries(part).filter((path) => !existsSync(join(folder, path)));
}

/**
 * @param {BundlePart} part What is to be built.
 * @returns {string[]} Its sources, as paths from the repository's root.
 */
function neededEntries(part) {
  return { node: Object.values(nodeEntries), preload: [preloadEntry], renderer: rendererFiles }[part];
}

/**
 * Build one part into build/node, build/preload or build/renderer.
 *
 * Sources and results both lie two folders below the root (electron/cli/main.ts, build/node/cli.js), and
 * shared chunks lie beside the programs: `new URL('../../kits/', import.meta.url)` means the same in both.
 *
 * @param {string} folder The repository.
 * @param {BundlePart} part What to build.
 * @param {readonly string[]} [forgiven] Sources that may be missing; they are left out.
 * @returns {Promise<string[]>} The sources that were left out. Rejects with the bundler's message, or with one
 *   that names the missing sources.
 */
export async function bundle(folder, part, forgiven = mayBeAbsent) {
  const missing = missingEntries(folder, part);
  const unforgiven = missing.filter((path) => !forgiven.includes(path));
  if (unforgiven.length > 0) {
    throw new Error(
      `Cannot build ${part}: ${unforgiven.join(', ')} not found (see electron/bundle/entries.mjs).`,
    );
  }
  // A page needs all of its files; of programs, those that are there can be built.
  const canBuild = part === 'renderer' ? missing.length === 0 : missing.length < neededEntries(part).length;
  if (canBuild) {
    await build({ node: nodeConfig, preload: preloadConfig, renderer: rendererConfig }[part](folder));
  }
  return missing;
}

/**
 * @param {string} folder The repository.
 * @returns {import('vite').InlineConfig} Programs for Node as ES modules.
 */
function nodeConfig(folder) {
  const input = Object.fromEntries(
    Object.entries(nodeEntries)
      .map(([name, path]) => [name, join(folder, path)])
      .filter(([, path]) => existsSync(path ?? '')),
  );
  return {
    ...common(folder),
    ssr: { noExternal: [...insidePackages], resolve: { conditions: [...insideConditions] } },
    build: {
      ssr: true,
      target: nodeTarget,
      outDir: 'build/node',
      emptyOutDir: true,
      minify: false,
      sourcemap: true,
      rolldownOptions: {
        input,
        external: ['electron'],
        output: { format: 'es', entryFileNames: '[name].js', chunkFileNames: 'shared-[name]-[hash].js' },
      },
    },
  };
}

/**
 * @param {string} folder The repository.
 * @returns {import('vite').InlineConfig} One CommonJS file with everything inside but Electron.
 */
function preloadConfig(folder) {
  return {
    ...common(folder),
    ssr: { noExternal: true },
    build: {
      ssr: true,
      target: nodeTarget,
      outDir: 'build/preload',
      emptyOutDir: true,
      minify: false,
      rolldownOptions: {
        input: { preload: join(folder, preloadEntry) },
        external: ['electron'],
        output: { format: 'cjs', entryFileNames: '[name].cjs', codeSplitting: false },
      },
    },
  };
}

/**
 * @param {string} folder The repository.
 * @returns {import('vite').InlineConfig} The page: files only, nothing inline, so that the content policy holds.
 */
function rendererConfig(folder) {
  return {
    ...common(folder),
    root: join(folder, rendererFolder),
    base: './',
    plugins: [react()],
    build: {
      target: 'es2023',
      outDir: join(folder, 'build/renderer'),
      emptyOutDir: true,
      assetsInlineLimit: 0,
      modulePreload: { polyfill: false },
      chunkSizeWarningLimit: 1500,
    },
  };
}
