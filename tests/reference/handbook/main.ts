import { errorOf, handbookRows, type HandbookRow } from './handbook-rows.ts';
import { leftOut } from './left-out.ts';
import { modelErrorLines } from './model-error.ts';

/** Prints every published figure beside what the catalogue's model gives; 1 when a limit is passed. */
export function main(): number {
  const rows = handbookRows();
  for (const row of rows) console.log(line(row));
  console.log(`\n${modelErrorLines().join('\n')}`);
  console.log('\nLeft out:');
  for (const { what, why } of leftOut) console.log(`${what}: ${why}`);
  const failures = rows.filter(isOutside);
  const checked = rows.filter((row) => row.limit !== null).length;
  console.log(`${rows.length} figures, ${checked} checked, ${failures.length} outside their limit`);
  return failures.length === 0 ? 0 : 1;
}

function isOutside(row: HandbookRow): boolean {
  return row.limit !== null && Math.abs(errorOf(row)) > row.limit;
}

function line(row: HandbookRow): string {
  const percent = (ratio: number): string => `${(100 * ratio).toFixed(1)} %`;
  return [
    row.what.padEnd(46),
    row.expected.toPrecision(4).padStart(10),
    row.computed.toPrecision(4).padStart(10),
    percent(errorOf(row)).padStart(9),
    (row.limit === null ? 'printed' : `±${percent(row.limit)}`).padStart(9),
    isOutside(row) ? 'OUTSIDE' : '       ',
    row.source,
  ].join(' ');
}
