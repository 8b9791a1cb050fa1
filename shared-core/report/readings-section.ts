import { deviation } from '../drawing/deviation.ts';
import { deviationScene } from '../drawing/deviation-scene.ts';
import type { Verdict } from '../bands/verdict.ts';
import type { DeviationPoint } from '../drawing/deviation-scene.ts';
import { smallBandScene } from '../drawing/small-band-scene.ts';
import { verdictMark } from '../drawing/verdict-mark.ts';
import type { ReadingEntryRecord } from '../journal/build-state.ts';
import { formatQuantity, MINUS } from '../units/format-quantity.ts';
import { dayOneBlocks } from './day-one-section.ts';
import type { CellLine, ReportBlock, ReportCell, ReportRow, ReportSection } from './report-document.ts';
import type { ReportReading, ReportSource } from './report-source.ts';
import { conditionLetter, conditionTitle } from './report-source.ts';
import { bandWords, cell, counted, dayOf, entryWords, timeOf } from './words.ts';

/** Every reading as a row: what it is, its band, what was measured, first number included, and the verdict. */
export function readingsSection(source: ReportSource, readings: readonly ReportReading[]): ReportSection {
  const rows = readings.flatMap((each, index): readonly ReportRow[] => {
    const isNew = each.reading.in !== readings[index - 1]?.reading.in;
    const group: readonly ReportRow[] = isNew
      ? [{ kind: 'group', text: groupTitle(source, each.reading.in) }]
      : [];
    return [...group, { kind: 'cells', cells: readingCells(each) }];
  });
  return {
    id: 'readings',
    heading: 'Readings',
    blocks: [
      {
        kind: 'paragraph',
        text: `The band is the one of the time: 98 of 100 healthy amplifiers of this kit, on this bench and with these valves, lie in the block; 998 of 1000 in the lighter one. The tick is the computed value, the pointer is the reading, a red upright is a stop limit. Unless a row says otherwise, the first number was typed before the band was shown.${leadWords(source)}`,
        quiet: true,
      },
      {
        kind: 'table',
        title: 'Readings with their bands and verdicts',
        rowHeading: 1,
        columns: [
          { heading: 'No.', share: 5, align: 'right' },
          { heading: 'Reading', share: 40 },
          { heading: 'Expected', share: 19 },
          { heading: 'Band', share: 21 },
          { heading: 'Measured', share: 17 },
          { heading: 'Verdict', share: 19 },
        ],
        rows,
      },
      ...togetherBlocks(source),
      ...dayOneBlocks(source, readings),
      ...repeatedBlocks(readings),
    ],
  };
}

/** What the readings say as a whole, with the figures behind it. */
function togetherBlocks({ together }: ReportSource): readonly ReportBlock[] {
  if (together === undefined) return [];
  const { words, readings, distance, limit } = together;
  const figures = `It rests on ${counted(readings, 'reading')}: their distance from a healthy amplifier’s, in standard deviations and with what goes together taken into account, is ${distance.toFixed(1)}; 98 of 100 simulated healthy amplifiers stay within ${limit.toFixed(1)}.`;
  return [
    { kind: 'paragraph', text: words },
    { kind: 'paragraph', text: figures, quiet: true },
  ];
}

function groupTitle(source: ReportSource, condition: string): string {
  return `${conditionLetter(source, condition)} · ${conditionTitle(source, condition)}`;
}

function leadWords({ build }: ReportSource): string {
  const ohms = build.bench?.leads.ohms ?? 0;
  return ohms > 0
    ? ` Cold ohms and their bands have the ${formatQuantity(ohms, 'Ω')} of the leads in them.`
    : '';
}

function readingCells({ number, reading, facts, record, first, last }: ReportReading): readonly ReportCell[] {
  const { unit } = reading;
  const expect = facts?.expect ?? null;
  const place = `${reading.id} · ${reading.measure}, ${reading.at} to ${reading.against}`;
  const name: ReportCell = {
    lines: [
      { text: reading.title, style: 'plain' },
      { text: place, style: 'quiet' },
    ],
  };
  if (record === null || last === null || first === null)
    return [
      cell(String(number)),
      name,
      cell(bandWords(null, unit, expect)),
      cell(''),
      cell('not taken', 'quiet'),
      cell(''),
    ];
  const value = last.entry.kind === 'value' ? last.entry.value : null;
  const { low = expect?.above ?? null, nominal = null, high = expect?.below ?? null } = last.band ?? {};
  const figures = {
    unit,
    ...{ low, nominal, high },
    ...{ lowest: last.band?.lowest ?? low, highest: last.band?.highest ?? high },
    ...{ stopAbove: facts?.stopAbove ?? null, stopBelow: facts?.stopBelow ?? null },
  };
  const drawing = smallBandScene(figures, value);
  const nominalText =
    nominal === null ? [] : [quiet(`computed ${entryWords({ kind: 'value', value: nominal }, unit)}`)];
  return [
    cell(String(number)),
    name,
    { lines: [{ text: bandWords(last.band, unit, expect), style: 'plain' }, ...nominalText] },
    drawing === null ? cell('') : { lines: [], drawing },
    { lines: [{ text: entryWords(last.entry, unit), style: 'bold' }, ...earlierLines(record.entries, unit)] },
    { lines: verdictLines({ record, last }), mark: verdictMark(record.verdict) },
  ];
}

function quiet(text: string): CellLine {
  return { text, style: 'quiet' };
}

/** The first number is kept in sight, also when it was typed again. */
function earlierLines(
  entries: readonly ReadingEntryRecord[],
  unit: ReportReading['reading']['unit'],
): readonly CellLine[] {
  const [first] = entries;
  if (first === undefined || entries.length === 1) return [];
  return [quiet(`first ${entryWords(first.entry, unit)}`)];
}

function verdictLines({ record, last }: Pick<ReportReading, 'record' | 'last'>): readonly CellLine[] {
  if (record === null || last === null) return [];
  const lines: CellLine[] = [{ text: record.verdict, style: isPlain(record.verdict) ? 'plain' : 'bold' }];
  const away = percentAway(last);
  if (away !== null) lines.push(quiet(away));
  if (record.settled === 'accepted') lines.push(quiet('accepted, see “At a glance”'));
  else if (record.settled === 'open' && (record.verdict === 'stop' || record.verdict === 'out of band'))
    lines.push({ text: 'not settled', style: 'bold' });
  if (!record.counts) lines.push({ text: 'to be read again', style: 'bold' });
  if (record.entries[0]?.bandShownBefore === true) lines.push(quiet('band seen before'));
  return lines;
}

function isPlain(verdict: Verdict): boolean {
  return verdict === 'as expected' || verdict === 'not predicted' || verdict === 'still warming';
}

/** "2 % above" the computed value. */
function percentAway({ entry, band }: ReadingEntryRecord): string | null {
  const nominal = band?.nominal ?? null;
  if (entry.kind !== 'value' || nominal === null || nominal === 0) return null;
  const percent = (100 * (entry.value - nominal)) / Math.abs(nominal);
  if (!Number.isFinite(percent) || Math.abs(percent) > 999) return null;
  if (Math.abs(percent) < 0.05) return 'as computed';
  const size = Math.abs(percent);
  return `${size < 10 ? size.toFixed(1) : Math.round(size)} % ${percent < 0 ? 'below' : 'above'}`;
}

/** Numbers that were typed again: all of them, in order. */
function repeatedBlocks(readings: readonly ReportReading[]): readonly ReportBlock[] {
  const repeated = readings.filter(({ record }) => (record?.entries.length ?? 0) > 1);
  if (repeated.length === 0) return [];
  const rows = repeated.map(({ number, reading, record }): ReportRow => {
    const entries = record?.entries ?? [];
    const column = (words: (entry: ReadingEntryRecord) => string, style: CellLine['style']): ReportCell => ({
      lines: entries.map((entry) => ({ text: words(entry), style })),
    });
    return {
      kind: 'cells',
      cells: [
        cell(String(number)),
        cell(reading.title),
        column(({ at }) => `${dayOf(at)} ${timeOf(at)}`, 'mono'),
        column(({ typed }) => shortened(typed), 'mono'),
        column(({ entry }) => entryWords(entry, reading.unit), 'plain'),
        column(({ verdict }) => verdict, 'plain'),
      ],
    };
  });
  return [
    {
      kind: 'paragraph',
      text: 'Readings that were taken more than once, with every number as it was typed:',
    },
    {
      kind: 'table',
      title: 'Every number of the readings taken more than once',
      rowHeading: 1,
      columns: [
        { heading: 'No.', share: 5, align: 'right' },
        { heading: 'Reading', share: 40 },
        { heading: 'When', share: 24 },
        { heading: 'Typed', share: 14 },
        { heading: 'Understood', share: 15 },
        { heading: 'Verdict', share: 19 },
      ],
      rows,
    },
  ];
}

/** What was typed, on one line: the lines of this table stand beside each other. */
function shortened(typed: string): string {
  return typed.length > 11 ? `${typed.slice(0, 10)}…` : typed;
}

/** All readings in one picture: a drift of all of them looks different from one that is wrong. */
export function deviationsSection(source: ReportSource, readings: readonly ReportReading[]): ReportSection {
  const points = readings.flatMap((each): readonly DeviationPoint[] => {
    const { number, reading, record, first, last } = each;
    const own = last === null ? null : deviationOf(last);
    if (record === null || own === null) return [];
    const isReread = record.entries.length > 1 && first !== null;
    const group = conditionLetter(source, reading.in);
    return [
      { number, group, deviation: own, first: isReread ? deviationOf(first) : null, verdict: record.verdict },
    ];
  });
  const taken = readings.filter(({ last }) => last !== null).length;
  const blocks: readonly ReportBlock[] =
    points.length === 0
      ? [{ kind: 'paragraph', text: 'No reading has a band with two ends, so there is nothing to plot.' }]
      : [
          {
            kind: 'figures',
            columns: 1,
            figures: [
              {
                scene: deviationScene(points),
                caption: `${counted(points.length, 'reading')} with a two-ended band, in the order of the table below, over the letters of their conditions, each measured by its own band: the block reaches from the low to the high end. Left out: ${taken - points.length} without one (OL, or a limit on one side). A ring is a first number that was read again.`,
              },
            ],
          },
          { kind: 'paragraph', text: driftText(points) },
        ];
  return { id: 'deviations', heading: 'Deviations', blocks };
}

function deviationOf({ entry, band }: ReadingEntryRecord): number | null {
  return entry.kind === 'value' && band !== null ? deviation(entry.value, band) : null;
}

/** The middle of all deviations: whether the prediction as a whole sits high or low. */
function driftText(points: readonly DeviationPoint[]): string {
  const sorted = points.map((point) => point.deviation).toSorted((one, other) => one - other);
  const middle =
    ((sorted[Math.floor((sorted.length - 1) / 2)] ?? 0) + (sorted[Math.ceil((sorted.length - 1) / 2)] ?? 0)) /
    2;
  const inside = sorted.filter((each) => Math.abs(each) <= 1).length;
  const sign = middle < 0 ? MINUS : '+';
  return `${inside} of ${sorted.length} lie inside their bands. The median deviation is ${sign}${Math.abs(middle).toFixed(2)} of a half-band.`;
}
