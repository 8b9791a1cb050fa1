/**
 * `npm test`: every check and every test, the same command as CI.
 *
 * All stages run even when one fails, so that one run shows everything. The last line is
 * `N passed, N failed` with the tests of all stages; the exit code is 1 when a stage failed.
 * With stage names as arguments only those run: `npm test -- lint types`.
 */
import { performance } from 'node:perf_hooks';
import { runPool } from './run/pool.mjs';
import { runStage } from './run/run-stage.mjs';
import { budgets, stages } from './run/stages.mjs';
import { ensurePoppler, ensureSocat } from './run/system-tools.mjs';

const names = process.argv.slice(2);
const unknown = names.filter((name) => !stages.some((stage) => stage.name === name));
if (unknown.length > 0) {
  console.error(
    `There is no stage ${unknown.join(', ')}. Stages: ${stages.map(({ name }) => name).join(', ')}.`,
  );
  process.exit(2);
}
const chosen = stages.filter(({ name }) => names.length === 0 || names.includes(name));

/** @type {string[]} */
const summary = [];
/** @type {import('./run/run-stage.mjs').StageResult[]} */
const results = [];

/**
 * @param {import('./run/run-stage.mjs').StageResult} result What came of a stage.
 * @param {string} [budget] Its budget, where it has one of its own.
 */
function record({ name, isWell, seconds, note, counts }, budget) {
  const numbers = counts && `${counts.passed} passed, ${counts.failed} failed, ${counts.skipped} skipped`;
  const parts = [`${seconds.toFixed(1)} s${budget ?? ''}`, numbers, note].filter(Boolean);
  summary.push(`${isWell ? 'ok    ' : 'FAILED'} ${name}: ${parts.join('; ')}`);
}

const staticStarted = performance.now();
const checks = await runPool(
  2,
  chosen.filter(({ kind }) => kind === 'static'),
  runStage,
);
for (const result of checks) record(result);
results.push(...checks);
if (checks.length > 0) {
  const seconds = (performance.now() - staticStarted) / 1000;
  summary.push(
    `       static checks together: ${seconds.toFixed(1)} s (budget ${budgets['static checks']} s)`,
  );
}

const needsTools = chosen.some(({ kind }) => kind === 'tests');
const tools = needsTools ? ensurePoppler() : { ok: true, message: '' };
if (!tools.ok) {
  console.log(tools.message);
  summary.push(`FAILED tools: ${tools.message}`);
}
const cable = needsTools ? ensureSocat() : { ok: true, message: '' };
if (!cable.ok) summary.push(`NOT RUN ${cable.message}`);

for (const stage of chosen.filter(({ kind }) => kind !== 'static')) {
  const result = await runStage(stage);
  record(result, ` (budget ${Object.entries(budgets).find(([name]) => name === stage.name)?.[1] ?? '-'} s)`);
  results.push(result);
}

const passed = results.reduce((sum, { counts }) => sum + (counts?.passed ?? 0), 0);
const failed = results.reduce((sum, { counts }) => sum + (counts?.failed ?? 0), 0);
console.log(`\n${summary.join('\n')}\n\n${passed} passed, ${failed} failed`);
process.exitCode = tools.ok && results.every(({ isWell }) => isWell) ? 0 : 1;
