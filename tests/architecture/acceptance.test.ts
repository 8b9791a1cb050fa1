import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findRowFaults, readAcceptanceTable } from '../helpers/acceptance-table.ts';
import { root } from '../run/child.mjs';

const rows = readAcceptanceTable(readFileSync(join(root, 'tests/acceptance.md'), 'utf8'));
const { scripts } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as {
  scripts: Record<string, string>;
};
const isFile = (path: string) => statSync(join(root, path), { throwIfNoEntry: false })?.isFile() ?? false;
const faults = (line: string) =>
  readAcceptanceTable(line).flatMap((row) => findRowFaults(row, isFile, Object.keys(scripts)));

describe('the acceptance table', () => {
  it('names only tests and npm scripts that exist', () => {
    expect(rows.flatMap((row) => findRowFaults(row, isFile, Object.keys(scripts)))).toEqual([]);
  });

  it('has every line once', () => {
    const perIssue = Object.fromEntries(
      ['2', '3', '4', '5', '6'].map((issue) => [issue, rows.filter((row) => row.issue === issue).length]),
    );
    // The number of *Must show* lines of each issue; a row is never dropped to make the table look better.
    expect(perIssue).toEqual({ 2: 7, 3: 4, 4: 5, 5: 7, 6: 6 });
    expect(new Set(rows.map((row) => row.claim)).size).toBe(rows.length);
  });

  it.each([
    [
      'a test that does not exist',
      '| 2 | x | `tests/no-such.test.ts` | | |',
      'no-such.test.ts does not exist',
    ],
    ['a script that does not exist', '| 2 | x | `npm run nothing` | | |', 'no npm script nothing'],
    ['words without a test', '| 2 | x | looked at | | |', 'in backquotes'],
    ['a figure that nothing gave', '| 2 | x | | 99 % | |', 'needs the test'],
    ['a date in another order', '| 2 | x | `npm test` | 1 | 25.11.2026 |', 'write the date'],
  ])('refuses %s', (_what, line, message) => {
    expect(faults(line).join()).toContain(message);
  });

  it('takes a row that holds', () => {
    const line = '| 2 | x | `tests/architecture/acceptance.test.ts`, `npm run bench` | 3 ms | 2026-11-25 |';
    expect(faults(line)).toEqual([]);
  });
});
