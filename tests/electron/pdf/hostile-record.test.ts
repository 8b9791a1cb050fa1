import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeReportPdf } from '../../../electron/pdf/make-report-pdf.ts';
import { readRecord } from '../../../shared-core/journal/read-record.ts';
import { recordText } from '../../../shared-core/journal/build-record.ts';
import { makeReport } from '../../../shared-core/report/make-report.ts';
import { finchRecord, troubledFinch } from '../../helpers/report-source.ts';
import { sha256 } from '../../helpers/scripted-build.ts';

const text = recordText(finchRecord(troubledFinch()));

type Member = { readonly holder: Record<string, unknown>; readonly key: string };

/** Every member of a JSON value, at any depth. */
function membersOf(value: unknown): readonly Member[] {
  if (typeof value !== 'object' || value === null) return [];
  const holder = value as Record<string, unknown>;
  return Object.keys(holder).flatMap((key) => [{ holder, key }, ...membersOf(holder[key])]);
}

/** What somebody may put in a member's place. */
const junk = fc.oneof(
  fc.constant(undefined),
  fc.jsonValue({ maxDepth: 2 }),
  fc.constantFrom<unknown>(
    1e308,
    -1e308,
    5e-324,
    '',
    'x'.repeat(5000),
    '\uD800',
    '\u0000\u202E中',
    [],
    {},
    null,
  ),
);

/** Up to three members, by their place among all, and what is put there. */
const changes = fc.array(fc.tuple(fc.nat(999_999), junk), { minLength: 1, maxLength: 3 });

function spoil(list: readonly (readonly [number, unknown])[]): string {
  const record: unknown = JSON.parse(text);
  for (const [place, value] of list) {
    const members = membersOf(record);
    const member = members[Math.floor((place / 1e6) * members.length)];
    if (member !== undefined) member.holder[member.key] = value;
  }
  return JSON.stringify(record);
}

describe('a record from a stranger', () => {
  it('is refused or reported, whatever was put into it', async () => {
    let reported = 0;
    await fc.assert(
      fc.asyncProperty(changes, fc.integer({ min: 0, max: 19 }), async (list, die) => {
        const record = readRecord(spoil(list), sha256);
        if (!record.ok) return;
        const report = makeReport(
          record.value,
          record.warnings.map(({ message }) => message),
        );
        // Setting it in type takes most of the time: one in twenty is enough.
        const pages = die === 0 ? await makeReportPdf(report) : null;
        expect(report.sections.length * (pages?.length ?? 1)).toBeGreaterThan(10);
        reported += 1;
      }),
      { numRuns: 600 },
    );
    expect(reported).toBeGreaterThan(100);
  }, 60_000);
});
