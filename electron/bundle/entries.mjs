/**
 * What the build makes, as plain lists. To add a program, add its line here.
 */

/** Programs for Node: name of the file in build/node → its source. Most packages stay outside, in node_modules. */
export const nodeEntries = {
  cli: 'electron/cli/main.ts',
  host: 'electron/host/main.ts',
  'engine-worker': 'electron/engine-worker/worker.ts',
  main: 'electron/main/main.ts',
  start: 'electron/start/start.ts',
};

/**
 * Packages that are built into the programs for Node, with what they need themselves: those of shared-core, all
 * plain JavaScript. One file instead of a hundred is loaded in half the time, and only what is used of them.
 */
export const insidePackages = [/^yaml$/, /^zod(\/|$)/, /^d3-/, /^internmap$/, /^ml-/, /^is-any-array$/];

/** Which build of a package goes inside: ES modules where it has them, of which what is not used falls away. */
export const insideConditions = ['module', 'import', 'default'];

/** The preload script: one CommonJS file, since a sandboxed preload may load nothing but Electron. */
export const preloadEntry = 'electron/preload/preload.ts';

/** Folder of the screen's page, and the files that must be in it. */
export const rendererFolder = 'renderer';
export const rendererFiles = ['renderer/index.html', 'renderer/app/main.tsx'];

/**
 * Sources that nobody has written yet: the build leaves them out and says so. A source that is missing and
 * not listed here fails the build. Keep this list empty once everything is there.
 *
 * @type {readonly string[]}
 */
export const mayBeAbsent = [];
