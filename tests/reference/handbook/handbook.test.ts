import { describe, expect, it } from 'vitest';
import { valveTypes } from '../../../shared-core/valves/index.ts';
import { errorOf, handbookRows } from './handbook-rows.ts';
import { leftOut } from './left-out.ts';

const rows = handbookRows();
const checked = rows.flatMap((row) => (row.limit === null ? [] : [{ ...row, limit: row.limit }]));

describe('the valve catalogue against the handbooks', () => {
  it.each(checked)('$what: $expected', (row) => {
    expect(Math.abs(errorOf(row))).toBeLessThanOrEqual(row.limit);
  });

  it('prints, but does not check, the point that no published model reproduces', () => {
    const excluded = rows.filter((row) => row.what.includes('-14.7 V'));
    expect(excluded.length).toBeGreaterThan(0);
    expect(excluded.every((row) => row.limit === null)).toBe(true);
  });

  it('prints figures of every type that is not an equivalent of another', () => {
    const printed = (name: string): boolean => rows.some(({ what }) => what.startsWith(`${name} `));
    const silent = valveTypes.map(({ name }) => name).filter((name) => !printed(name));
    // The same curves as 6SN7GT, 6SL7GT, 6V6GT and ECC88, whose figures are printed.
    expect(silent.sort()).toEqual(['6N23P', '6SN7GTB', '6V6GTA', '7F7', 'E88CC']);
  });

  it('gives a reason for every row that it leaves out', () => {
    for (const { what, why } of leftOut) expect(why.length, what).toBeGreaterThan(20);
  });
});
