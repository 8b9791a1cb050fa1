import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { findBrowser } from '../helpers/find-browser.mjs';
import { root, runCommand } from './child.mjs';
import { readCounts, settleCounts } from './counts.mjs';
import { mayBeAbsent } from './stages.mjs';

/** @typedef {import('./stages.mjs').Stage} Stage */

/**
 * What came of a stage.
 *
 * @typedef {object} StageResult
 * @property {string} name The stage.
 * @property {boolean} isWell Whether nothing failed.
 * @property {number} seconds How long it took, in seconds (s).
 * @property {string} [note] What there is to say in a word or two.
 * @property {import('./counts.mjs').Counts} [counts] For test stages: how many tests ended in each way.
 */

/**
 * Run one stage. Output of static checks is printed at once when they fail; tests print as they go.
 *
 * @param {Stage} stage What to run.
 * @returns {Promise<StageResult>} Never rejects for a stage that fails.
 */
export async function runStage(stage) {
  return stage.kind === 'tests' ? runTests(stage) : runCheck(stage);
}

/**
 * @param {Stage} stage A static check or the build.
 * @returns {Promise<StageResult>} What came of it.
 */
async function runCheck({ name, command: [program = '', ...args] }) {
  const { code, output, seconds } = await runCommand(program, args);
  if (code !== 0) console.log(`\n--- ${name} ---\n${output.trimEnd()}\n`);
  return { name, isWell: code === 0, seconds };
}

/**
 * @param {Stage} stage A stage of tests.
 * @returns {Promise<StageResult>} What came of it; an absent folder is a failure unless stages.mjs allows it.
 */
async function runTests({ name, command: [program = '', ...args], runner, folder = '' }) {
  if (!existsSync(join(root, folder))) {
    const allowed = mayBeAbsent[name];
    const counts = { passed: 0, failed: allowed ? 0 : 1, skipped: 0 };
    return {
      name,
      isWell: allowed !== undefined,
      seconds: 0,
      note: allowed ?? `${folder} is missing`,
      counts,
    };
  }
  console.log(`\n--- ${name} ---`);
  const report = join(root, 'test-output', `${name.replaceAll(' ', '-')}.json`);
  mkdirSync(join(root, 'test-output'), { recursive: true });
  rmSync(report, { force: true });

  /** @type {Record<string, string>} */
  const env = {};
  if (runner === 'playwright') {
    const browser = findBrowser();
    if (!browser.ok) {
      console.log(browser.message);
      return { name, isWell: false, seconds: 0, note: 'no browser', counts: settleCounts(1) };
    }
    console.log(`browser: ${browser.path} (${browser.how})`);
    Object.assign(env, { CHROMIUM: browser.path, PLAYWRIGHT_JSON_OUTPUT_NAME: report });
  }
  const reporting =
    runner === 'playwright'
      ? ['--reporter=list,json']
      : ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const { code, seconds } = await runCommand(program, [...args, ...reporting], { env, echo: true });
  const counts = settleCounts(
    code,
    existsSync(report) ? readCounts(runner ?? 'vitest', readFileSync(report, 'utf8')) : undefined,
  );
  return { name, isWell: code === 0 && counts.failed === 0, seconds, counts };
}
