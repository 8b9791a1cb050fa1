import { describe, expect, test } from 'vitest';
import { Fleet } from '../../../shared-core/feedback/fleet.ts';
import { csvText } from '../../../shared-core/feedback/gather-csv.ts';
import { summariseFleet } from '../../../shared-core/feedback/summarise-fleet.ts';
import { normalDraw, seededRandom } from '../../../shared-core/numerics/random.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { bandOf, fleetRecord, smallKit } from '../../helpers/fleet-records.ts';

/** Forty builders; those with valves of one brand read 1.5 deviations more. */
function fleetOf(brandOf: (number: number) => string, revisions: readonly string[] = ['A']): Fleet {
  const random = seededRandom(3);
  const fleet = new Fleet({ kit: null, joints: new Map() });
  for (let number = 0; number < 40; number += 1) {
    const brand = brandOf(number);
    const value = 100 + (brand === 'Lark' ? 15 : 0) + 8 * normalDraw(random);
    const revision = revisions[number % revisions.length] ?? 'A';
    const bench = {
      ...plainBench,
      mains: { ...plainBench.mains, source: brand === 'Lark' ? ('measured' as const) : ('assumed' as const) },
    };
    fleet.add(
      fleetRecord({
        ...{
          number,
          brand,
          kit: { ...smallKit, revision },
          bench: brandOf(0) === brandOf(1) ? plainBench : bench,
        },
        readings: { 'b1-cold': { values: [value], band: bandOf(100, 10) } },
      }),
      false,
    );
  }
  return fleet;
}

const none = { files: 40, aside: [], otherFiles: 0 };
const reportOf = (fleet: Fleet) => summariseFleet(fleet, none, null);

describe('what goes with a reading beside the kit', () => {
  test('is named where it can be told apart: a brand that is in half of the builds', () => {
    // Brands change every second pair, so that nothing else goes with them.
    const [own] = reportOf(fleetOf((number) => (number % 4 < 2 ? 'Lark' : 'Ostrava'))).revisions;
    const found = own?.readings.find(({ id }) => id === 'b1-cold')?.separations ?? [];
    const lark = found.find(({ matter, level }) => matter === 'V3 brand' && level === 'Lark');
    expect(lark).toMatchObject({ count: 20, finding: 'differs' });
    // 1.5 deviations are 0.645 half-bands.
    expect(Math.abs((lark?.difference ?? 0) - 1.5 / 2.3263)).toBeLessThan(lark?.uncertainty ?? 0);
  });

  test('cannot be separated where two matters always change together', () => {
    const [own] = reportOf(fleetOf((number) => (number % 2 === 0 ? 'Lark' : 'Ostrava'))).revisions;
    const brand = own?.covariates.find(({ matter }) => matter === 'V3 brand');
    expect(brand?.cannot).toContain('mains');
    const found = own?.readings.find(({ id }) => id === 'b1-cold')?.separations ?? [];
    expect(found.find(({ matter }) => matter === 'V3 brand')?.finding).toBe('cannot be separated');
  });

  test('cannot be separated where all builds had the same', () => {
    const [own] = reportOf(fleetOf(() => 'Lark')).revisions;
    expect(own?.covariates.find(({ matter }) => matter === 'V3 brand')?.cannot).toContain('all builds');
  });
});

describe('two revisions', () => {
  test('are counted apart and set side by side', () => {
    const report = reportOf(fleetOf(() => 'Lark', ['A', 'B']));
    expect(report.revisions.map(({ revision, builds }) => [revision, builds])).toEqual([
      ['A', 20],
      ['B', 20],
    ]);
    expect(report.comparisons[0]).toMatchObject({ from: 'A', to: 'B', onlyIn: [] });
  });

  test('of which one record is withdrawn are as if it had never been there', () => {
    const [plain, changed] = [fleetOf(() => 'Lark'), fleetOf(() => 'Lark')];
    const more = fleetRecord({
      number: 99,
      readings: { 'b1-cold': { values: [7], band: bandOf(100, 10) } },
      notes: ['x'],
    });
    changed.add(more, false);
    changed.remove(more, false);
    const seen = reportOf(changed).revisions[0];
    expect(seen?.readings).toEqual(reportOf(plain).revisions[0]?.readings);
    expect([seen?.builds, seen?.notes]).toEqual([40, []]);
  });
});

describe('a table for a spreadsheet', () => {
  test('is RFC 4180: CR LF, quotes about comma, quote and line end, quotes doubled', () => {
    expect(
      csvText(
        ['a', 'b'],
        [
          ['x,y', 'say "no"'],
          ['two\nlines', 1.5],
          [null, true],
        ],
      ),
    ).toBe('a,b\r\n"x,y","say ""no"""\r\n"two\nlines",1.5\r\n,true\r\n');
  });

  test('runs nothing that a builder typed', () => {
    expect(csvText(['a'], [['=1+1'], [-1]])).toBe("a\r\n'=1+1\r\n-1\r\n");
  });
});
