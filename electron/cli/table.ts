/** A column: its heading, and on which side its texts stand. */
export interface Column {
  readonly title: string;
  readonly side?: 'left' | 'right';
}

/**
 * Rows in columns, two spaces apart, a heading and a rule above.
 *
 * Widths are counted in characters as shown: combining marks count nothing.
 */
export function formatTable(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const widths = columns.map(({ title }, index) =>
    Math.max(...[title, ...rows.map((row) => row[index] ?? '')].map(shownWidth)),
  );
  const write = (cells: readonly string[]): string =>
    columns
      .map(({ side = 'left' }, index) => {
        const cell = cells[index] ?? '';
        const gap = ' '.repeat(Math.max(0, (widths[index] ?? 0) - shownWidth(cell)));
        return side === 'left' ? cell + gap : gap + cell;
      })
      .join('  ')
      .trimEnd();
  return [
    write(columns.map(({ title }) => title)),
    widths.map((width) => '─'.repeat(width)).join('  '),
    ...rows.map(write),
  ].join('\n');
}

/** How many places a text takes on the screen. */
export function shownWidth(text: string): number {
  return [...text.replace(/\p{Mark}/gu, '')].length;
}
