/** One row of `tests/acceptance.md`. */
export interface AcceptanceRow {
  /** Line of the file, counted from 1. */
  readonly line: number;
  readonly issue: string;
  readonly claim: string;
  /** Test files and npm scripts in backquotes; empty where nothing shows the claim yet. */
  readonly shownBy: string;
  readonly figure: string;
  readonly date: string;
}

/**
 * Read the rows of the acceptance table.
 *
 * @param text The Markdown file.
 * @returns Every row under the heading, however many cells it has; absent cells are empty.
 */
export function readAcceptanceTable(text: string): AcceptanceRow[] {
  return text
    .split('\n')
    .map((source, index) => ({ source, line: index + 1 }))
    .filter(({ source }) => /^\| *\d/.test(source))
    .map(({ source, line }) => {
      const [issue = '', claim = '', shownBy = '', figure = '', date = ''] = source
        .split(/(?<!\\)\|/)
        .slice(1)
        .map((cell) => cell.trim());
      return { line, issue, claim, shownBy, figure, date };
    });
}

/**
 * Say what is wrong with a row.
 *
 * @param row The row.
 * @param isFile Whether a path from the root is a file.
 * @param scripts Names of the npm scripts.
 * @returns One sentence for each fault; empty where the row holds.
 */
export function findRowFaults(
  { line, shownBy, figure, date }: AcceptanceRow,
  isFile: (path: string) => boolean,
  scripts: readonly string[],
): string[] {
  const faults: string[] = [];
  const named = [...shownBy.matchAll(/`([^`]+)`/g)].map((match) => match[1] ?? '');
  if (shownBy !== '' && named.length === 0) faults.push(`line ${line}: name a test or command in backquotes`);
  for (const name of named) {
    const script = /^npm (?:run )?([a-z:-]+)/.exec(name)?.[1];
    const path = /^[\w./-]+\.[a-z]+/.exec(name)?.[0];
    if (script !== undefined) {
      if (!scripts.includes(script)) faults.push(`line ${line}: there is no npm script ${script}`);
    } else if (path === undefined || !isFile(path)) {
      faults.push(`line ${line}: ${name} does not exist`);
    }
  }
  if (figure !== '' && named.length === 0) faults.push(`line ${line}: a figure needs the test that gave it`);
  if (date !== '' && !/^\d{4}-\d{2}-\d{2}$/.test(date))
    faults.push(`line ${line}: write the date as 2026-11-25`);
  return faults;
}
