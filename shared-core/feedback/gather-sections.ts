import type { ReportBlock, ReportSection } from '../report/report-document.ts';
import { cell } from './gather-tables.ts';
import type { RevisionComparison, RevisionReport } from './gather-report.ts';
import { changeWords, intervalWords, separationWords, shareWords, signed } from './gather-words.ts';

/** What change of the kit would explain the fleet; null without the kit at hand. */
export function explanationSection({ explanation }: RevisionReport): ReportSection | null {
  if (!explanation) return null;
  const { found, leftOver, limit, readings, parameters, method } = explanation;
  const blocks: ReportBlock[] = [];
  if (found.length === 0) {
    blocks.push({ kind: 'paragraph', text: 'No change of the kit explains more than chance would.' });
  } else {
    blocks.push({ kind: 'list', items: found.map(changeWords) });
  }
  if (leftOver.length > 0) {
    const names = leftOver.map(({ id, sigmas }) => `${id} (${signed(sigmas, 1)} standard deviations)`);
    blocks.push({ kind: 'paragraph', text: `Not explained by that: ${names.join(', ')}.` });
  }
  blocks.push({
    kind: 'paragraph',
    quiet: true,
    text: `${parameters} parameters were tried on ${readings} readings; a finding is beyond ${limit.toFixed(2)} standard deviations. ${method.join(' ')} Sizes have 95 % uncertainties.`,
  });
  return { id: 'explanation', heading: 'What would explain the fleet', blocks };
}

/** Where builds go wrong, the surest first. */
export function faultSection({ faultPoints }: RevisionReport): ReportSection {
  const blocks: readonly ReportBlock[] =
    faultPoints.length === 0
      ? [{ kind: 'paragraph', text: 'No build went wrong at any step or reading.' }]
      : [
          {
            kind: 'table',
            title: 'Fault points',
            rowHeading: 1,
            columns: [
              { heading: '', share: 0.6, align: 'right' },
              { heading: 'Step or reading', share: 4.5 },
              { heading: 'What', share: 3 },
              { heading: 'Builds', share: 2 },
              { heading: '95 %', share: 2.2 },
            ],
            rows: faultPoints.map(({ kind, id, title, what, share }, index) => ({
              kind: 'cells',
              cells: [
                cell(String(index + 1), 'mono'),
                {
                  lines: [
                    { text: `${kind} ${id}`, style: 'bold' },
                    { text: title, style: 'quiet' },
                  ],
                },
                cell(what),
                cell(shareWords(share)),
                cell(intervalWords(share).replace('95 %: ', '')),
              ],
            })),
          },
        ];
  return { id: 'faults', heading: 'Fault points', blocks };
}

/** What beside the kit moves readings, and what cannot be told apart. */
export function covariatesSection({ readings, covariates }: RevisionReport): ReportSection | null {
  if (covariates.length === 0) return null;
  const differing = readings.flatMap(({ id, separations }) =>
    separations.flatMap((each) => (each.finding === 'differs' ? [`${id}: ${separationWords(each)}`] : [])),
  );
  const items = covariates.map(({ matter, levels, cannot }) => {
    const seen = levels.map(({ name, count }) => `${name} (${count})`).join(', ');
    return `${matter}: ${seen}${cannot === null ? '' : `. Cannot be separated: ${cannot}`}`;
  });
  const none = 'No reading goes with any of them more than chance would have it.';
  return {
    id: 'covariates',
    heading: 'Beside the kit',
    blocks: [
      { kind: 'list', items },
      differing.length === 0 ? { kind: 'paragraph', text: none } : { kind: 'list', items: differing },
    ],
  };
}

/** What builders found and wrote. */
export function causesSection(revision: RevisionReport): ReportSection | null {
  const { causes, signs, notes, readings, unlisted } = revision;
  const accepted = readings.flatMap(({ id, reasons }) =>
    reasons.map(({ name, count }) => ({ name: `${id}: ${name}`, count })),
  );
  const lists = [
    ['Causes found, in the builders’ words', causes],
    ['Signs that something was wrong', signs],
    ['Accepted out of band, with the reason', accepted],
    ['Notes', notes],
  ] as const;
  const blocks = lists.flatMap(([title, list]): ReportBlock[] =>
    list.length === 0
      ? []
      : [
          { kind: 'paragraph', text: `${title}:` },
          { kind: 'list', items: list.map(({ name, count }) => `${count} × ${name}`) },
        ],
  );
  if (blocks.length === 0) return null;
  const more: readonly ReportBlock[] =
    unlisted > 0
      ? [{ kind: 'paragraph', text: `${unlisted} more texts were counted and are not listed.` }]
      : [];
  return { id: 'words', heading: 'In the builders’ words', blocks: [...blocks, ...more] };
}

/** Two revisions side by side; only what is beyond its interval. */
export function comparisonSection({
  from,
  to,
  simulated,
  readings,
  steps,
  onlyIn,
}: RevisionComparison): ReportSection {
  const points = (difference: number): string => `${signed(100 * difference, 0)} points`;
  const items = [
    ...readings.flatMap(({ id, title, outOfBand, drift }) => [
      ...(outOfBand && (outOfBand.low > 0 || outOfBand.high < 0)
        ? [`${id}, ${title}: out of band ${points(outOfBand.difference)}`]
        : []),
      ...(drift && Math.abs(drift.difference) > drift.uncertainty
        ? [
            `${id}, ${title}: drift ${signed(drift.difference, 2)} ± ${drift.uncertainty.toFixed(2)} half-bands`,
          ]
        : []),
    ]),
    ...steps.flatMap(({ id, title, reopened }) =>
      reopened && (reopened.low > 0 || reopened.high < 0)
        ? [`${id}, ${title}: reopened ${points(reopened.difference)}`]
        : [],
    ),
    ...onlyIn.map(({ revision, id }) => `${id}: in revision ${revision} only`),
  ];
  return {
    id: `compare-${from}-${to}`,
    heading: `${simulated ? 'SIMULATED · ' : ''}Revision ${to} against ${from}`,
    blocks: [
      {
        kind: 'paragraph',
        text: 'What differs by more than its own 95 % interval; of twenty such lines one is chance.',
        quiet: true,
      },
      items.length === 0 ? { kind: 'paragraph', text: 'Nothing.' } : { kind: 'list', items },
    ],
  };
}
