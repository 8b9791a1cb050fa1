import type { Verdict } from '../bands/verdict.ts';
import type { Fact, ReportSection } from './report-document.ts';
import type { ReportReading, ReportSource } from './report-source.ts';
import { conditionTitle, stepTitle } from './report-source.ts';
import { counted, dayAndTime, listed } from './words.ts';

/** Kit, revision, hash, builder, dates, version: what tells this amplifier from all others. */
export function titleBlock(source: ReportSource): readonly Fact[] {
  const { kit, build, app } = source;
  const options = Object.values(build.choices).join(', ');
  return [
    { name: 'Kit', text: `${kit.name}, revision ${build.revision}` },
    { name: 'Maker', text: kit.maker },
    { name: 'Built for', text: options === '' ? 'no options to choose' : options },
    { name: 'Builder', text: build.signature?.name ?? 'not signed yet' },
    { name: 'Begun', text: dayAndTime(build.startedAt) },
    { name: 'Last entry', text: dayAndTime(build.lastAt) },
    { name: 'Written by', text: `Kitwright ${app}` },
    { name: 'Build', text: build.build, mono: true },
    { name: 'Kit file, SHA-256', text: build.kitHash, mono: true },
  ];
}

/** What this paper is not, and what stays dangerous. */
export function safetySection(): ReportSection {
  return {
    id: 'safety',
    heading: 'Before you rely on this paper',
    blocks: [
      {
        kind: 'notice',
        word: 'WARNING',
        paragraphs: [
          'This amplifier works with several hundred volts, and they stay inside after the plug is out. Before it is opened: plug out and in sight, black lead to the chassis, then measure every store named under “Drain” across its own two ends.',
          'This report says what the builder measured and confirmed. It is not a compliance assessment, not a certificate and not an inspection by a third person. Local codes and regulations come first; where they ask for a licensed person to assemble, test or inspect, have that done before the amplifier is used.',
          'Kitwright switched nothing and saw nothing: it asked, computed what to expect, and wrote down what it was told.',
        ],
      },
    ],
  };
}

const verdictWords: readonly (readonly [Verdict, string])[] = [
  ['as expected', 'as expected'],
  ['borderline', 'borderline'],
  ['out of band', 'out of band'],
  ['stop', 'past a stop limit'],
  ['still warming', 'read while still warming'],
  ['not predicted', 'not predicted'],
];

/** The outcome at a glance, with everything that was left out or taken on trust. */
export function summarySection(
  source: ReportSource,
  readings: readonly ReportReading[],
  flaws: readonly string[],
): ReportSection {
  const { build, kit } = source;
  const taken = readings.filter(({ last }) => last !== null);
  const verdicts = verdictWords.flatMap(([verdict, words]) => {
    const count = taken.filter(({ record }) => record?.verdict === verdict).length;
    return count === 0 ? [] : [`${count} ${words}`];
  });
  const done = kit.steps.filter(({ id }) => build.steps[id]?.status === 'done').length;
  const reread = taken.filter(({ record }) => (record?.entries.length ?? 0) > 1).length;
  const facts: readonly Fact[] = [
    { name: 'Steps', text: `${done} of ${kit.steps.length} done in the app` },
    { name: 'Readings', text: `${taken.length} of ${readings.length} taken: ${listed(verdicts) || 'none'}` },
    {
      name: 'Read more than once',
      text: `${counted(reread, 'reading')}; every number is kept, the first one first`,
    },
    togetherFact(source),
    acceptedFact(taken),
    {
      name: 'Stops',
      text: eventsText(build.stops.length, 'stop limit passed', 'stop limits passed'),
      strong: build.stops.length > 0,
    },
    {
      name: 'Something wrong',
      text: eventsText(build.wrongs.length, 'time', 'times'),
      strong: build.wrongs.length > 0,
    },
    { name: 'Repairs', text: eventsText(build.repairs.length, 'repair', 'repairs') },
    insulationFact(source, readings),
    {
      name: 'Energy state at the end',
      text: energyText(source),
      strong: build.safety.energy.kind !== 'dead',
    },
    ...flawFacts(source, flaws),
  ];
  return { id: 'summary', heading: 'At a glance', blocks: [{ kind: 'facts', facts }] };
}

/** The readings as a whole, beside their own verdicts. */
function togetherFact({ together }: ReportSource): Fact {
  const name = 'Readings taken together';
  if (together === undefined) return { name, text: 'not computed' };
  return { name, text: together.words, strong: !together.healthy };
}

function acceptedFact(taken: readonly ReportReading[]): Fact {
  const accepted = taken.filter(({ record }) => record?.settled === 'accepted');
  const name = 'Accepted with a reason';
  if (accepted.length === 0) return { name, text: 'none' };
  const reasons = accepted.map(
    ({ number, reading, record }) => `no. ${number}, ${reading.title}: ${record?.acceptedReason ?? ''}`,
  );
  // Two readings in band may still have been too far from each other.
  const isAllOut = accepted.every(({ record }) => record?.verdict === 'out of band');
  const what = isAllOut ? 'out of band' : 'out of band, or too far from the one beside it';
  return {
    name,
    text: `${counted(accepted.length, 'reading')} ${what}: ${reasons.join('; ')}`,
    strong: true,
  };
}

function eventsText(count: number, one: string, many: string): string {
  return count === 0 ? 'none' : counted(count, one, many);
}

function insulationFact({ build, facts }: ReportSource, readings: readonly ReportReading[]): Fact {
  const name = 'Insulation at 500 V';
  const own = readings.find((each) => each.facts?.proves === 'insulation');
  const standing = own?.record;
  if (own !== undefined && standing != null && standing.counts)
    return { name, text: `measured, reading no. ${own.number}: ${standing.verdict}` };
  const isKnown = facts.readings.some(({ proves }) => proves === 'insulation');
  const said = build.insulationNotTested ? ' (said so by the builder)' : '';
  return { name, text: `NOT tested${said}${isKnown ? '' : '; the kit has no reading for it'}`, strong: true };
}

function energyText(source: ReportSource): string {
  const { energy } = source.build.safety;
  switch (energy.kind) {
    case 'dead':
      return energy.proof === 'measured' ? 'dead, proven by measurement' : 'dead, never plugged in';
    case 'live':
      return `LIVE: ${conditionTitle(source, energy.condition)}`;
    case 'draining':
      return 'draining, NOT proven dead';
  }
}

function flawFacts({ build }: ReportSource, flaws: readonly string[]): readonly Fact[] {
  const refused = build.refusedEntries.length;
  const texts = [
    ...flaws,
    ...(refused === 0
      ? []
      : [
          `${counted(refused, 'entry', 'entries')} that the rules do not allow (no. ${build.refusedEntries.join(', ')})`,
        ]),
  ];
  return texts.length === 0 ? [] : [{ name: 'This record', text: texts.join(' '), strong: true }];
}

/** What was taken on trust. */
export function declaredSection(source: ReportSource): ReportSection {
  const { build, kit } = source;
  const steps = kit.steps.filter(({ id }) => build.steps[id]?.status === 'declared');
  const undone = kit.steps.filter(({ id }) => {
    const status = build.steps[id]?.status;
    return status !== 'done' && status !== 'declared';
  });
  const declared =
    steps.length === 0
      ? 'Nothing was declared: every step that is called done was gone through in the app.'
      : `${counted(steps.length, 'step was', 'steps were')} declared as done elsewhere. Nobody saw them through this app:`;
  return {
    id: 'declared',
    heading: 'Declared, not witnessed',
    blocks: [
      { kind: 'paragraph', text: declared },
      ...(steps.length === 0
        ? []
        : [{ kind: 'list' as const, items: steps.map(({ id }) => stepTitle(source, id)) }]),
      ...(undone.length === 0
        ? []
        : [
            {
              kind: 'paragraph' as const,
              text: `${counted(undone.length, 'step is', 'steps are')} not done:`,
            },
            { kind: 'list' as const, items: undone.map(({ id }) => stepTitle(source, id)) },
          ]),
      { kind: 'facts', facts: chapterFacts(source) },
    ],
  };
}

/** How the work went, chapter by chapter. */
function chapterFacts({ kit, build }: ReportSource): readonly Fact[] {
  return kit.chapters.map(({ id, title }) => {
    const steps = kit.steps.filter((step) => step.chapter === id).map((step) => build.steps[step.id]);
    const done = steps.filter((step) => step?.status === 'done').length;
    const reopened = steps.reduce((sum, step) => sum + (step?.reopened ?? 0), 0);
    return {
      name: title,
      text: `${done} of ${counted(steps.length, 'step')} done${reopened > 0 ? `, ${reopened} reopened` : ''}`,
    };
  });
}
