/** @typedef {{ passed: number, failed: number, skipped: number }} Counts How many tests ended in each way. */

/**
 * Read the numbers from the JSON report of a test runner.
 *
 * @param {'vitest' | 'playwright'} kind Which runner wrote the report.
 * @param {string} text The report.
 * @returns {Counts} Flaky browser tests count as failed: a test that passes on a second try proves nothing.
 */
export function readCounts(kind, text) {
  const report = JSON.parse(text);
  if (kind === 'vitest') {
    return {
      passed: report.numPassedTests,
      failed: report.numFailedTests,
      skipped: report.numPendingTests + (report.numTodoTests ?? 0),
    };
  }
  const { expected, unexpected, flaky, skipped } = report.stats;
  return { passed: expected, failed: unexpected + flaky, skipped };
}

/**
 * Settle what a stage's numbers are worth beside its exit code.
 *
 * A stage that failed without a failed test (a file that did not load, a crash) counts as one failure, and
 * so does a stage that ran no test at all.
 *
 * @param {number} exitCode What the runner ended with.
 * @param {Counts | undefined} counts Numbers of its report, if there was one.
 * @returns {Counts} Numbers with at least one failure unless all is well.
 */
export function settleCounts(exitCode, counts = { passed: 0, failed: 0, skipped: 0 }) {
  const isWell = exitCode === 0 && counts.passed > 0;
  return isWell ? counts : { ...counts, failed: Math.max(1, counts.failed) };
}
