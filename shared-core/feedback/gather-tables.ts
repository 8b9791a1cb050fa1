import { distributionScene } from '../drawing/distribution-scene.ts';
import type { ReportCell, ReportRow, ReportSection } from '../report/report-document.ts';
import { duration } from '../report/words.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { ReadingReport, RevisionReport, StepReport } from './gather-report.ts';
import { driftWords } from './gather-words.ts';
import { deviationEdges } from './summarise-reading.ts';

/** A cell of plain text. */
export function cell(text: string, style: 'plain' | 'bold' | 'mono' | 'quiet' = 'plain'): ReportCell {
  return { lines: [{ text, style }] };
}

/** Every reading that was taken, with the distribution of its first numbers over the predicted band. */
export function readingsSection({ readings }: RevisionReport): ReportSection | null {
  const taken = readings.filter((each) => each.taken > 0);
  if (taken.length === 0) return null;
  const conditions = [...new Set(taken.map(({ condition }) => condition))];
  const rows = conditions.flatMap((condition): ReportRow[] => [
    { kind: 'group', text: condition },
    ...taken.filter((each) => each.condition === condition).map(readingRow),
  ]);
  return {
    id: 'readings',
    heading: 'Readings',
    blocks: [
      {
        kind: 'paragraph',
        text: 'The bars are the builds, the block behind them is the predicted band, the mark below is the mean of the fleet with its uncertainty. Bars at the far ends hold all that lies further out.',
        quiet: true,
      },
      {
        kind: 'table',
        title: 'Readings of all builds',
        rowHeading: 0,
        columns: [
          { heading: 'Reading', share: 3.4 },
          { heading: 'n', share: 0.8, align: 'right' },
          { heading: 'Median; quartiles apart', share: 2.1, align: 'right' },
          { heading: 'Out, stop', share: 1.2, align: 'right' },
          { heading: 'In its band', share: 3 },
          { heading: 'Drift, half-bands', share: 2, align: 'right' },
        ],
        rows,
      },
    ],
  };
}

function readingRow(reading: ReadingReport): ReportRow {
  const { id, title, taken, values, unit, outOfBand, stop, drift, distribution } = reading;
  const isOff = drift?.finding === 'drift';
  const scene = distributionScene({
    edges: deviationEdges,
    counts: distribution,
    mean: drift ? { at: drift.mean, uncertainty: drift.uncertainty } : null,
  });
  return {
    kind: 'cells',
    cells: [
      {
        lines: [
          { text: id, style: 'mono' },
          { text: title, style: 'quiet' },
        ],
      },
      cell(String(taken), 'mono'),
      {
        lines: values
          ? [
              { text: formatQuantity(values.median, unit), style: 'mono' },
              { text: formatQuantity(values.spread, unit, 3), style: 'quiet' },
            ]
          : [{ text: 'OL', style: 'mono' }],
      },
      cell(
        outOfBand.count === 0 ? '0' : `${outOfBand.count}, ${stop.count}`,
        outOfBand.count === 0 ? 'quiet' : 'bold',
      ),
      drift ? { lines: [], drawing: scene } : cell('no band', 'quiet'),
      {
        lines: drift
          ? [
              { text: driftWords(drift), style: isOff ? 'bold' : 'plain' },
              ...(isOff ? [{ text: 'prediction off', style: 'bold' as const }] : []),
              ...(drift.outliers > 0
                ? [{ text: `${drift.outliers} left out`, style: 'quiet' as const }]
                : []),
            ]
          : [{ text: '', style: 'plain' }],
      },
    ],
  };
}

/** Every step with its time and what went wrong at it. */
export function stepsSection({ steps }: RevisionReport): ReportSection | null {
  const begun = steps.filter((each) => each.begun > 0 || (each.repairedIn?.count ?? 0) > 0);
  if (begun.length === 0) return null;
  const hasKit = begun.some(({ repairedIn }) => repairedIn !== null);
  return {
    id: 'steps',
    heading: 'Steps',
    blocks: [
      {
        kind: 'table',
        title: 'Steps of all builds',
        rowHeading: 0,
        columns: [
          { heading: 'Step', share: 4.4 },
          { heading: 'Begun', share: 1, align: 'right' },
          { heading: 'Median time; quartiles', share: 2.6, align: 'right' },
          { heading: 'Reopened', share: 1.2, align: 'right' },
          { heading: 'Stop', share: 0.9, align: 'right' },
          { heading: 'Left open', share: 1.1, align: 'right' },
          ...(hasKit ? [{ heading: 'Repair there', share: 1.2, align: 'right' as const }] : []),
          { heading: 'Notes', share: 0.9, align: 'right' },
        ],
        rows: begun.map((step) => stepRow(step, hasKit)),
      },
    ],
  };
}

function stepRow(step: StepReport, hasKit: boolean): ReportRow {
  const { id, title, begun, seconds, reopenedIn, stoppedIn, leftOpen, repairedIn, notes } = step;
  const count = (value: number): ReportCell => cell(String(value), value === 0 ? 'quiet' : 'bold');
  return {
    kind: 'cells',
    cells: [
      {
        lines: [
          { text: id, style: 'mono' },
          { text: title, style: 'quiet' },
        ],
      },
      cell(String(begun), 'mono'),
      {
        lines: seconds
          ? [
              { text: duration(seconds.median), style: 'plain' },
              { text: `${duration(seconds.lower)} … ${duration(seconds.upper)}`, style: 'quiet' },
            ]
          : [{ text: 'not known', style: 'quiet' }],
      },
      ...[reopenedIn.count, stoppedIn.count, leftOpen].map(count),
      ...(hasKit ? [count(repairedIn?.count ?? 0)] : []),
      count(notes),
    ],
  };
}
