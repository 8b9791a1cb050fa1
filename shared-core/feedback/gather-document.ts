import type { Fact, ReportBlock, ReportDocument, ReportSection } from '../report/report-document.ts';
import { dayAndTime, duration } from '../report/words.ts';
import {
  causesSection,
  comparisonSection,
  covariatesSection,
  explanationSection,
  faultSection,
} from './gather-sections.ts';
import { readingsSection, stepsSection } from './gather-tables.ts';
import type { GatherReport, RevisionReport } from './gather-report.ts';
import { intervalWords, shareWords } from './gather-words.ts';

/** When no record has an event to take a time from. */
const noTime = '1970-01-01T00:00:00.000Z';

/** Files set aside that are named one by one. */
const mostAside = 200;

/** The first-run report of a kit: what its builders' records say, as a document for the PDF. */
export function gatherDocument(report: GatherReport): ReportDocument {
  const newest = report.revisions.toSorted((one, other) => (one.lastAt < other.lastAt ? 1 : -1))[0];
  const name = newest?.name ?? 'No kit';
  const isMarked = report.simulated > 0;
  const mark = isMarked ? ` · ${report.simulated} SIMULATED` : '';
  const sections = [
    overview(report),
    ...report.revisions.flatMap(revisionSections),
    ...report.comparisons.map(comparisonSection),
  ];
  return {
    title: `${name}, first-run report`,
    kitName: name,
    paper: 'First-run report',
    maker: newest?.maker ?? '',
    runningHead: `${name} · first-run report · ${report.counted} builds${mark}`,
    runningFoot: 'What builders’ records say of a kit. Their readings are theirs; no build was looked at.',
    titleBlock: titleFacts(report),
    recordedAt: newest === undefined || newest.lastAt === '' ? noTime : newest.lastAt,
    sections,
  };
}

function titleFacts({
  revisions,
  files,
  counted,
  simulated,
  aside,
  otherFiles,
}: GatherReport): readonly Fact[] {
  const names = revisions.map(({ revision, kitHash, simulated: is }) => {
    return `${revision} (${kitHash.slice(0, 8)})${is ? ' SIMULATED' : ''}`;
  });
  const other = otherFiles > 0 ? `, and ${otherFiles} other files that are no records` : '';
  return [
    { name: 'Revisions', text: names.join(', ') || 'none' },
    { name: 'Files', text: `${files}${other}` },
    { name: 'Counted', text: `${counted}` },
    ...(simulated > 0
      ? [{ name: 'Simulated', text: `${simulated}, counted apart: no amplifier was measured`, strong: true }]
      : []),
    { name: 'Set aside', text: `${aside.length}`, ...(aside.length > 0 ? { strong: true } : {}) },
  ];
}

function overview({ aside, notes }: GatherReport): ReportSection {
  const blocks: ReportBlock[] = [
    {
      kind: 'paragraph',
      text: 'Of each build the first number typed counts, by the band that was shown for it. Deviations are in half-bands: 0 is the middle of the band, ±1 its edge. Shares have 95 % intervals (Wilson).',
    },
    ...notes.map((text): ReportBlock => ({ kind: 'paragraph', text, quiet: true })),
  ];
  if (aside.length > 0) {
    const more = aside.length > mostAside ? `, the first ${mostAside} of ${aside.length}` : '';
    blocks.push(
      { kind: 'paragraph', text: `Set aside and not counted${more}:` },
      {
        kind: 'table',
        title: 'Records set aside',
        rowHeading: 0,
        columns: [
          { heading: 'File', share: 4 },
          { heading: 'Reason', share: 1.3 },
          { heading: 'Why', share: 5 },
        ],
        rows: aside.slice(0, mostAside).map(({ file, reason, why }) => ({
          kind: 'cells',
          cells: [
            { lines: [{ text: file, style: 'mono' }] },
            { lines: [{ text: reason, style: 'bold' }] },
            { lines: [{ text: why, style: 'plain' }] },
          ],
        })),
      },
    );
  }
  return { id: 'records', heading: 'Records', blocks };
}

function revisionSections(revision: RevisionReport): readonly ReportSection[] {
  const tag = `${revision.simulated ? 'SIMULATED · ' : ''}revision ${revision.revision}`;
  const own: readonly (ReportSection | null)[] = [
    summary(revision),
    explanationSection(revision),
    faultSection(revision),
    readingsSection(revision),
    covariatesSection(revision),
    stepsSection(revision),
    causesSection(revision),
  ];
  return own.flatMap((section) =>
    section === null
      ? []
      : [{ ...section, id: `${section.id}-${revision.kitHash}`, heading: `${section.heading}, ${tag}` }],
  );
}

function summary(revision: RevisionReport): ReportSection {
  const { builds, simulated, seconds, lastAt } = revision;
  const facts: readonly Fact[] = [
    { name: 'Builds', text: `${builds}`, strong: simulated },
    { name: 'Kit file', text: revision.kitHash, mono: true },
    {
      name: 'Options',
      text: revision.choices.map(({ name, count }) => `${choiceWords(name)} (${count})`).join('; '),
    },
    { name: 'Signed', text: shareWords(revision.signed) },
    { name: 'Declared', text: `${revision.declared} were assembled before the app was there` },
    { name: 'Repaired', text: `${shareWords(revision.repaired)}, ${intervalWords(revision.repaired)}` },
    { name: 'A stop', text: `${shareWords(revision.stopped)}, ${intervalWords(revision.stopped)}` },
    { name: 'Something wrong', text: shareWords(revision.somethingWrong) },
    { name: 'Questions', text: `${revision.questions}` },
    {
      name: 'Time taken',
      text: seconds
        ? `median ${duration(seconds.median)}, quartiles ${duration(seconds.lower)} and ${duration(seconds.upper)}, from first event to last`
        : 'not known',
    },
    { name: 'Last event', text: lastAt === '' ? 'not known' : dayAndTime(lastAt) },
  ];
  const notice: readonly ReportBlock[] = simulated
    ? [
        {
          kind: 'notice',
          word: 'NOTICE',
          paragraphs: ['Simulated records: readings drawn by chance. No builder, no amplifier measured.'],
        },
      ]
    : [];
  return { id: 'builds', heading: 'Builds', blocks: [...notice, { kind: 'facts', facts }] };
}

/** The names are JSON of our own making. */
function choiceWords(name: string): string {
  const choices = JSON.parse(name) as Readonly<Record<string, string>>;
  const words = Object.entries(choices).map(([option, choice]) => `${option} ${choice}`);
  return words.join(', ') || 'none';
}
