import type { GatherReport, Quartiles, RevisionReport } from './gather-report.ts';
import type { Share } from './wilson.ts';

/** A file to be written. */
export interface CsvFile {
  readonly name: string;
  readonly text: string;
}

type Cell = string | number | boolean | null;

/** What a spreadsheet would take for a formula. */
const formula = /^[=+\-@\t\r]/;

/**
 * A table as RFC 4180 has it: lines end with CR LF, a field with comma, quote or line end stands in quotes, quotes
 * are doubled; UTF-8.
 *
 * A text of a builder that a spreadsheet would run as a formula gets an apostrophe before it. Numbers have a point,
 * and as many digits as they need; null is an empty field.
 */
export function csvText(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [header, ...rows].map((row) => `${row.map(csvField).join(',')}\r\n`).join('');
}

function csvField(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  const text = typeof cell === 'string' && formula.test(cell) ? `'${cell}` : String(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** Everything of a report as tables, one file each. */
export function gatherCsv(report: GatherReport): readonly CsvFile[] {
  return [
    readings(report),
    steps(report),
    faultPoints(report),
    separations(report),
    words(report),
    changes(report),
    {
      name: 'set-aside.csv',
      text: csvText(
        ['file', 'reason', 'why'],
        report.aside.map(({ file, reason, why }) => [file, reason, why]),
      ),
    },
  ];
}

const of = ['revision', 'kit_hash', 'simulated'] as const;

function whose({ revision, kitHash, simulated }: RevisionReport): readonly Cell[] {
  return [revision, kitHash, simulated];
}

function table(
  name: string,
  header: readonly string[],
  report: GatherReport,
  rows: (revision: RevisionReport) => readonly (readonly Cell[])[],
): CsvFile {
  const all = report.revisions.flatMap((each) => rows(each).map((row) => [...whose(each), ...row]));
  return { name: `${name}.csv`, text: csvText([...of, ...header], all) };
}

const shareColumns = (name: string): readonly string[] => [name, `${name}_low`, `${name}_high`];

function shareCells({ share, low, high }: Share): readonly Cell[] {
  return share === null ? [null, null, null] : [share, low, high];
}

function quartileCells(quartiles: Quartiles | null): readonly Cell[] {
  return quartiles ? [quartiles.lower, quartiles.median, quartiles.upper] : [null, null, null];
}

const verdicts = ['as expected', 'borderline', 'out of band', 'stop', 'still warming', 'not predicted'];

function readings(report: GatherReport): CsvFile {
  const header = [
    ...['reading', 'title', 'condition', 'unit', 'taken', 'overloads', 'lower_quartile', 'median'],
    ...['upper_quartile', ...verdicts.map((name) => name.replaceAll(' ', '_'))],
    ...shareColumns('share_out_of_band'),
    ...shareColumns('share_stop'),
    ...['taken_again', 'band_shown_before', 'accepted', 'drift_half_bands', 'drift_uncertainty_95'],
    ...['spread_half_bands', 'drift_builds', 'outliers', 'finding'],
  ];
  return table('readings', header, report, ({ readings: all }) =>
    all.map((each) => [
      ...[each.id, each.title, each.condition, each.unit, each.taken, each.overloads],
      ...quartileCells(each.values),
      ...verdicts.map((name) => each.verdicts.find((own) => own.name === name)?.count ?? 0),
      ...shareCells(each.outOfBand),
      ...shareCells(each.stop),
      ...[each.again, each.shownBefore, each.accepted],
      ...(each.drift
        ? [
            ...[each.drift.mean, each.drift.uncertainty, each.drift.spread],
            ...[each.drift.count, each.drift.outliers, each.drift.finding],
          ]
        : [null, null, null, null, null, null]),
    ]),
  );
}

function steps(report: GatherReport): CsvFile {
  const header = [
    ...['step', 'title', 'begun', 'done', 'lower_quartile_seconds', 'median_seconds'],
    ...['upper_quartile_seconds', 'reopened', ...shareColumns('share_reopened')],
    ...[...shareColumns('share_stopped'), 'left_open', 'notes', ...shareColumns('share_repaired_there')],
  ];
  return table('steps', header, report, ({ steps: all }) =>
    all.map((each) => [
      ...[each.id, each.title, each.begun, each.done],
      ...quartileCells(each.seconds),
      each.reopened,
      ...shareCells(each.reopenedIn),
      ...shareCells(each.stoppedIn),
      ...[each.leftOpen, each.notes],
      ...(each.repairedIn ? shareCells(each.repairedIn) : [null, null, null]),
    ]),
  );
}

function faultPoints(report: GatherReport): CsvFile {
  const header = ['rank', 'kind', 'id', 'title', 'what', 'builds', 'of', ...shareColumns('share')];
  return table('fault-points', header, report, ({ faultPoints: all }) =>
    all.map(({ kind, id, title, what, share }, index) => [
      ...[index + 1, kind, id, title, what, share.count, share.of],
      ...shareCells(share),
    ]),
  );
}

function separations(report: GatherReport): CsvFile {
  const header = [
    'reading',
    'matter',
    'level',
    'builds',
    'difference_half_bands',
    'uncertainty_95',
    'finding',
  ];
  return table('covariates', header, report, ({ readings: all }) =>
    all.flatMap(({ id, separations: own }) =>
      own.map((each) => [
        ...[id, each.matter, each.level, each.count],
        ...[each.difference, each.uncertainty, each.finding],
      ]),
    ),
  );
}

/** What builders wrote: causes found, signs, notes, reasons for accepting. */
function words(report: GatherReport): CsvFile {
  return table('words', ['kind', 'about', 'text', 'count'], report, (revision) => [
    ...revision.causes.map(({ name, count }) => ['cause found', null, name, count]),
    ...revision.signs.map(({ name, count }) => ['sign', null, name, count]),
    ...revision.notes.map(({ name, count }) => ['note', null, name, count]),
    ...revision.readings.flatMap(({ id, reasons }) =>
      reasons.map(({ name, count }) => ['accepted with a reason', id, name, count]),
    ),
  ]);
}

function changes(report: GatherReport): CsvFile {
  const header = ['finding', 'quantity', 'what', 'size', 'uncertainty_95', 'sigmas', 'same_direction'];
  return table('parameter-changes', header, report, ({ explanation }) =>
    (explanation?.found ?? []).flatMap(({ group }, index) =>
      group.map(({ quantity, what, size, uncertainty, sigmas }) => [
        ...[index + 1, quantity, what, size, uncertainty, sigmas, group.length > 1],
      ]),
    ),
  );
}
