/**
 * What the build makes, as plain lists. To add a program, add its line here.
 */

/** Programs for Node: name of the file in build/node → its source. Packages stay outside, in node_modules. */
export const nodeEntries = {
  cli: 'electron/cli/main.ts',
  host: 'electron/host/main.ts',
  'engine-worker': 'electron/engine-worker/worker.ts',
  main: 'electron/main/main.ts',
  start: 'electron/start/start.ts',
};

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
