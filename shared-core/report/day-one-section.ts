import type { MeterEntry } from '../bands/verdict.ts';
import { formatQuantity, MINUS } from '../units/format-quantity.ts';
import type { ReportBlock, ReportRow } from './report-document.ts';
import type { ReportReading, ReportSource } from './report-source.ts';
import { cell, dayOf, entryWords } from './words.ts';

/** Readings of a service beside those of the old record; nothing where there is none. */
export function dayOneBlocks(
  { build }: ReportSource,
  readings: readonly ReportReading[],
): readonly ReportBlock[] {
  const { dayOne } = build;
  if (dayOne === undefined) return [];
  const rows = readings.flatMap(({ number, reading, last }): ReportRow[] => {
    const then = dayOne.readings[reading.id];
    if (then === undefined || last === null) return [];
    const cells = [
      cell(String(number)),
      cell(reading.title),
      cell(entryWords(then, reading.unit)),
      cell(entryWords(last.entry, reading.unit)),
      cell(changeWords(then, last.entry)),
    ];
    return [{ kind: 'cells', cells }];
  });
  const when = dayOne.at === null ? '' : ` of ${dayOf(dayOne.at)}`;
  const words = `This is a service: the readings are compared with the record${when}, as it was given.`;
  if (rows.length === 0) return [{ kind: 'paragraph', text: words }];
  return [
    { kind: 'paragraph', text: words },
    {
      kind: 'table',
      title: 'Readings compared with day one',
      rowHeading: 1,
      columns: [
        { heading: 'No.', share: 5, align: 'right' },
        { heading: 'Reading', share: 46 },
        { heading: 'Day one', share: 22 },
        { heading: 'Now', share: 22 },
        { heading: 'Change', share: 16 },
      ],
      rows,
    },
  ];
}

/** "+2.1 %", "−0.4 %", "none"; "—" where one of both is no figure or the first is zero. */
export function changeWords(then: MeterEntry, now: MeterEntry): string {
  if (then.kind !== 'value' || now.kind !== 'value') return then.kind === now.kind ? 'none' : '—';
  if (then.value === 0) return '—';
  const share = (now.value - then.value) / Math.abs(then.value);
  if (Math.abs(share) < 0.0005) return 'none';
  return `${share > 0 ? '+' : MINUS}${formatQuantity(Math.abs(share), '%', 2)}`;
}
