import type { FleetExplanation } from '../../shared-core/feedback/explain-fleet.ts';
import type {
  GatherReport,
  ReadingReport,
  RevisionComparison,
  RevisionReport,
} from '../../shared-core/feedback/gather-report.ts';
import {
  changeWords,
  driftWords,
  intervalWords,
  separationWords,
  shareWords,
  signed,
} from '../../shared-core/feedback/gather-words.ts';
import { duration } from '../../shared-core/report/words.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import { formatTable } from './table.ts';

/** Fault points, causes and steps on the screen; the files have them all. */
const mostShown = 12;

/** A gather report for the terminal. */
export function gatherText(report: GatherReport): string {
  const { counted, simulated, files, aside } = report;
  const parts = [
    `${files} ${files === 1 ? 'file' : 'files'}: ${counted} counted`,
    ...(simulated > 0 ? [`${simulated} SIMULATED, counted apart`] : []),
    `${aside.length} set aside`,
  ];
  return [
    parts.join(', '),
    ...(aside.length === 0
      ? []
      : [
          'Set aside:',
          ...aside.map(({ file, reason, why }) => `  ${file}: ${reason}. ${why.replace(/\.$/, '')}.`),
        ]),
    ...report.revisions.flatMap((revision) => ['', ...revisionLines(revision)]),
    ...report.comparisons.flatMap((each) => ['', ...comparisonLines(each)]),
    '',
    ...report.notes,
  ].join('\n');
}

function revisionLines(revision: RevisionReport): readonly string[] {
  const { name, revision: letter, kitHash, builds, simulated } = revision;
  const mark = simulated ? 'SIMULATED, no amplifier measured · ' : '';
  return [
    `${mark}${name}, revision ${letter} (${kitHash.slice(0, 8)}): ${builds} ${builds === 1 ? 'build' : 'builds'}`,
    `  signed ${shareWords(revision.signed)} · repaired ${shareWords(revision.repaired)} · a stop in ${shareWords(revision.stopped)} · something wrong in ${shareWords(revision.somethingWrong)}`,
    ...(revision.seconds ? [`  half of the builds took ${duration(revision.seconds.median)} or less`] : []),
    ...(revision.explanation ? ['', ...explanationLines(revision.explanation)] : []),
    ...faultLines(revision),
    '',
    formatTable(
      [
        { title: 'reading' },
        { title: 'n', side: 'right' },
        { title: 'median', side: 'right' },
        { title: 'quartiles apart', side: 'right' },
        { title: 'out of band', side: 'right' },
        { title: 'stop', side: 'right' },
        { title: 'drift, half-bands', side: 'right' },
        { title: '' },
      ],
      revision.readings.filter(({ taken }) => taken > 0).map(readingRow),
    ),
    ...separationLines(revision),
    ...stepLines(revision),
    ...listLines('Causes found', revision.causes),
    ...listLines('Signs', revision.signs),
  ];
}

function readingRow({ id, unit, taken, values, outOfBand, stop, drift }: ReadingReport): readonly string[] {
  return [
    id,
    String(taken),
    values ? formatQuantity(values.median, unit) : 'OL',
    values ? formatQuantity(values.spread, unit, 3) : '',
    outOfBand.count === 0 ? '' : `${outOfBand.count}`,
    stop.count === 0 ? '' : `${stop.count}`,
    drift ? driftWords(drift) : '',
    drift?.finding === 'drift' ? 'prediction off' : '',
  ];
}

function explanationLines({
  found,
  leftOver,
  limit,
  readings,
  parameters,
}: FleetExplanation): readonly string[] {
  const looked = `${parameters} parameters and ${readings} readings, limit ${limit.toFixed(1)} standard deviations (1 % for all together)`;
  if (found.length === 0 && leftOver.length === 0) {
    return [`  No change of the kit explains more than chance: ${looked}.`];
  }
  return [
    `  What would explain the fleet (${looked}):`,
    ...found.map((change, index) => `  ${index + 1}. ${changeWords(change)}`),
    ...(leftOver.length === 0
      ? []
      : [
          `  Not explained by that: ${leftOver.map(({ id, sigmas }) => `${id} (${sigmas.toFixed(1)} σ)`).join(', ')}`,
        ]),
  ];
}

function faultLines({ faultPoints }: RevisionReport): readonly string[] {
  if (faultPoints.length === 0) return [];
  return [
    '',
    '  Fault points, the surest first:',
    ...faultPoints.slice(0, mostShown).map(({ kind, id, what, share }, index) => {
      return `  ${index + 1}. ${kind} ${id}: ${what} in ${shareWords(share)}, ${intervalWords(share)}`;
    }),
  ];
}

function separationLines({ readings, covariates }: RevisionReport): readonly string[] {
  const differing = readings.flatMap(({ id, separations }) =>
    separations
      .filter(({ finding }) => finding === 'differs')
      .map((each) => `  ${id}: ${separationWords(each)}`),
  );
  const cannot = covariates.flatMap(({ matter, cannot: why }) =>
    why === null ? [] : [`  ${matter} cannot be separated: ${why}`],
  );
  return differing.length + cannot.length === 0 ? [] : ['', ...differing, ...cannot];
}

function stepLines({ steps }: RevisionReport): readonly string[] {
  const timed = steps
    .filter(({ seconds }) => seconds !== null)
    .toSorted((one, other) => (other.seconds?.median ?? 0) - (one.seconds?.median ?? 0))
    .slice(0, mostShown);
  if (timed.length === 0) return [];
  const rows = timed.map(({ id, seconds, reopenedIn, stoppedIn, notes }) => [
    id,
    seconds ? duration(seconds.median) : '',
    seconds ? `${duration(seconds.lower)} … ${duration(seconds.upper)}` : '',
    String(reopenedIn.count),
    String(stoppedIn.count),
    String(notes),
  ]);
  return [
    '',
    'Steps that take longest',
    formatTable(
      [
        { title: 'step' },
        { title: 'median', side: 'right' },
        { title: 'quartiles', side: 'right' },
        { title: 'reopened', side: 'right' },
        { title: 'stop', side: 'right' },
        { title: 'notes', side: 'right' },
      ],
      rows,
    ),
  ];
}

function listLines(title: string, list: RevisionReport['causes']): readonly string[] {
  if (list.length === 0) return [];
  return ['', title, ...list.slice(0, mostShown).map(({ name, count }) => `  ${count} × ${name}`)];
}

function comparisonLines({ from, to, readings, steps }: RevisionComparison): readonly string[] {
  const moved = readings.flatMap(({ id, outOfBand, drift }) => {
    const isShare = outOfBand !== null && (outOfBand.low > 0 || outOfBand.high < 0);
    const isDrift = drift !== null && Math.abs(drift.difference) > drift.uncertainty;
    if (!isShare && !isDrift) return [];
    const share = isShare ? ` out of band ${percentChange(outOfBand.difference)}` : '';
    return [
      `  ${id}:${share}${isDrift ? ` drift ${signed(drift.difference, 2)} ± ${drift.uncertainty.toFixed(2)} half-bands` : ''}`,
    ];
  });
  const again = steps.flatMap(({ id, reopened }) =>
    reopened !== null && (reopened.low > 0 || reopened.high < 0)
      ? [`  ${id}: reopened ${percentChange(reopened.difference)}`]
      : [],
  );
  const all = [...moved, ...again];
  const none = '  nothing beyond its 95 % interval';
  return [`Revision ${to} against ${from} (each by itself, 95 %):`, ...(all.length > 0 ? all : [none])];
}

function percentChange(difference: number): string {
  return `${signed(100 * difference, 0)} points`;
}
