/**
 * What `npm test` runs, in order. Budgets are printed beside the time taken, never asserted: machines differ.
 */

/**
 * @typedef {object} Stage
 * @property {string} name What the summary calls it.
 * @property {'static' | 'build' | 'tests'} kind Static checks run two at a time; tests give numbers.
 * @property {readonly string[]} command Program and arguments.
 * @property {'vitest' | 'playwright'} [runner] Who runs the tests, and so what its report looks like.
 * @property {string} [folder] Folder that must hold the tests.
 */

/** Time budgets in seconds (s): the static checks together, then each later stage by name. */
export const budgets = {
  'static checks': 45,
  build: 15,
  'unit and property': 90,
  reference: 120,
  'end to end': 300,
};

/**
 * Stages that may be absent because nobody has written them yet, with what is said then. An absent stage that
 * is not listed here is a failure. Keep this list empty once every folder is there.
 *
 * @type {Readonly<Record<string, string>>}
 */
export const mayBeAbsent = {};

/** @type {readonly Stage[]} */
export const stages = [
  { name: 'types', kind: 'static', command: ['node', 'tests/run/types.mjs'] },
  { name: 'format', kind: 'static', command: ['prettier', '--check', '--log-level', 'warn', '.'] },
  { name: 'lint', kind: 'static', command: ['oxlint'] },
  { name: 'dead code', kind: 'static', command: ['knip', '--no-progress'] },
  { name: 'architecture', kind: 'static', command: ['node', 'tests/run/architecture.mjs'] },
  { name: 'build', kind: 'build', command: ['node', 'electron/bundle/build.mjs'] },
  {
    name: 'unit and property',
    kind: 'tests',
    command: ['vitest', 'run', ...['unit', 'window', 'renderer'].flatMap((name) => ['--project', name])],
    runner: 'vitest',
    folder: 'tests/shared-core',
  },
  {
    name: 'reference',
    kind: 'tests',
    command: ['vitest', 'run', '--project', 'reference'],
    runner: 'vitest',
    folder: 'tests/reference',
  },
  {
    name: 'end to end',
    kind: 'tests',
    command: ['playwright', 'test', '--grep-invert', '@long'],
    runner: 'playwright',
    folder: 'tests/e2e',
  },
];
