import { drainScene } from '../drawing/drain-scene.ts';
import type { DrainLook, DrainRecord } from '../journal/build-state.ts';
import type { StorePrediction } from '../prediction/prediction.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { ReportBlock, ReportRow, ReportSection } from './report-document.ts';
import type { ReportSource } from './report-source.ts';
import { conditionTitle, partName } from './report-source.ts';
import { cell, counted, dayAndTime, dayOf, duration, timeOf } from './words.ts';

/** Volts below which a look stands on the bottom line of the plot and tells nothing of the drain. */
const lowestPlotted = 1;

/** How the stores emptied, look by look, against what was computed for them. */
export function drainSection(source: ReportSource): ReportSection {
  const { build, facts } = source;
  const drains = build.drains.filter(({ looks, provenAt }) => looks.length > 0 || provenAt !== null);
  return {
    id: 'drain',
    heading: 'Drain',
    blocks: [
      {
        kind: 'paragraph',
        text: `After every plug-out each store is measured across its own two ends until it is below ${formatQuantity(facts.safeVolts, 'V')}, and again a minute or more later, with a meter that was shown to work before and after. Slow, likely and fast are the computed limits and the middle of a healthy drain from the highest voltage; a reading above slow points to an open bleeder. Where no rectifier was in, the stores were never charged and read next to nothing.`,
        quiet: true,
      },
      storeTable(source),
      ...plots(source, drains),
      ...(drains.length === 0 ? [noDrain] : [drainTable(source, drains)]),
      ...findings(source),
    ],
  };
}

const noDrain: ReportBlock = { kind: 'paragraph', text: 'No drain was measured.' };

function storeTable(source: ReportSource): ReportBlock {
  const time = (seconds: number | null): string => (seconds === null ? 'never' : duration(seconds));
  return {
    kind: 'table',
    title: 'Stores and how fast they should empty',
    rowHeading: 0,
    columns: [
      { heading: 'Store', share: 34 },
      { heading: 'Measure', share: 24 },
      { heading: 'At most', share: 20 },
      { heading: `Below ${source.facts.safeVolts} V: fast`, share: 17, align: 'right' },
      { heading: 'likely', share: 12, align: 'right' },
      { heading: 'slow', share: 12, align: 'right' },
    ],
    rows: source.facts.stores.map((store) => ({
      kind: 'cells',
      cells: [
        cell(partName(source, store.part), 'bold'),
        cell(`${store.plus} to ${store.minus}`),
        cell(`${formatQuantity(store.volts, 'V', 3)}, ${formatQuantity(store.joules, '', 2)} J`),
        ...[store.fastSeconds, store.likelySeconds, store.slowSeconds].map((each) => cell(time(each))),
      ],
    })),
  };
}

function plots(source: ReportSource, drains: readonly DrainRecord[]): readonly ReportBlock[] {
  const figures = source.facts.stores.map((store) => {
    const looks = drains.flatMap((drain) => drain.looks.filter((look) => look.store === store.part));
    const shown = looks.filter((look) => isPlotted(look, store));
    const hidden = looks.length - shown.length;
    const points = shown.flatMap(({ seconds, volts }) => (seconds === null ? [] : [{ seconds, volts }]));
    const rest =
      hidden === 0 ? '' : `; ${hidden} not drawn (below ${lowestPlotted} V, later, or time not known)`;
    return {
      scene: drainScene(store, source.facts.safeVolts, points, null),
      caption: `${partName(source, store.part)}: ${counted(points.length, 'look')} of all drains${rest}.`,
    };
  });
  return figures.length === 0 ? [] : [{ kind: 'figures', columns: 2, figures }];
}

function isPlotted(look: DrainLook, store: StorePrediction): boolean {
  const latest = Math.max((store.slowSeconds ?? 60) * 1.4, 200);
  return look.seconds !== null && look.seconds <= latest && look.volts >= lowestPlotted;
}

function drainTable(source: ReportSource, drains: readonly DrainRecord[]): ReportBlock {
  const rows = drains.flatMap((drain, index): readonly ReportRow[] => [
    { kind: 'group', text: drainTitle(drain, index, source) },
    ...source.facts.stores.flatMap(({ part }) => {
      const looks = drain.looks.filter(({ store }) => store === part);
      return looks.length === 0 ? [] : [storeRow(part, looks, drain)];
    }),
  ]);
  return {
    kind: 'table',
    title: 'Looks at every store after every plug-out',
    rowHeading: 0,
    columns: [
      { heading: 'Store', share: 13 },
      { heading: 'First look', share: 22 },
      { heading: 'Computed for that moment', share: 38 },
      { heading: 'Further looks', share: 48 },
    ],
    rows,
  };
}

const whyWords: Readonly<Partial<Record<string, string>>> = {
  'plug pulled': 'after the plug was pulled',
  'assembled elsewhere': 'on taking over an assembled amplifier',
  'old record': 'on taking over an old record',
  closed: 'after the app had been closed',
  'asleep or clock set': 'after the computer had slept or its clock was set',
  idle: 'after an idle hour',
  'found plugged in': 'after it was found plugged in',
  'charge found': 'after a charge was found',
  'clip off early': 'after a clip came off early',
  'kit changed': 'after the kit was changed',
  'journal broken': 'after the journal was found broken',
};

function drainTitle(drain: DrainRecord, index: number, source: ReportSource): string {
  const plug = source.build.plugIns.find(({ outAt }) => outAt !== null && outAt === drain.plugOutAt);
  const after =
    plug === undefined
      ? (whyWords[drain.why] ?? drain.why)
      : `after “${conditionTitle(source, plug.condition)}”`;
  const out = drain.plugOutAt === null ? 'plug-out not confirmed' : `plug out ${dayAndTime(drain.plugOutAt)}`;
  const known = drain.timeKnown ? '' : ', time unknown';
  const proven =
    drain.provenAt === null
      ? 'NOT proven'
      : `proven ${drain.plugOutAt !== null && dayOf(drain.plugOutAt) === dayOf(drain.provenAt) ? '' : `${dayOf(drain.provenAt)}, `}${timeOf(drain.provenAt)}`;
  return `${index + 1}. ${after}: ${out}${known}; ${proven}`;
}

function storeRow(part: string, looks: readonly DrainLook[], drain: DrainRecord): ReportRow {
  const [first, ...more] = looks;
  const clips = drain.clips.filter(({ store }) => store === part);
  const rest = [
    ...more.map(lookWords),
    ...clips.map(({ ohms }) => `discharge clip of ${formatQuantity(ohms, 'Ω')}`),
  ].join('; ');
  return {
    kind: 'cells',
    cells: [
      cell(part, 'bold'),
      cell(first === undefined ? '' : lookWords(first)),
      cell(curveWords(first)),
      cell(rest || 'none'),
    ],
  };
}

function lookWords({ volts, seconds, at, hurried }: DrainLook): string {
  const when = seconds === null ? `at ${timeOf(at)}` : `at ${duration(seconds)}`;
  return `${formatQuantity(volts, 'V', 3)} ${when}${hurried ? ', hurried' : ''}`;
}

function curveWords(look: DrainLook | undefined): string {
  if (look === undefined || look.likelyVolts === null || look.fastVolts === null || look.slowVolts === null)
    return 'time not known';
  const volts = (value: number): string => formatQuantity(value < 0.1 ? 0 : value, 'V', 2);
  return `fast ${volts(look.fastVolts)}, likely ${volts(look.likelyVolts)}, slow ${volts(look.slowVolts)}`;
}

function findings({ build }: ReportSource): readonly ReportBlock[] {
  const words = {
    'slow drain': 'drained more slowly than its slow curve',
    'hurried look': 'was typed faster than a probe can move',
    'charge found in a dead amplifier': 'held a charge in an amplifier that counted as dead',
  } as const;
  const items = build.safety.findings.map(
    ({ kind, store, volts, stamp }) =>
      `${store} ${words[kind]}: ${formatQuantity(volts, 'V', 3)}, ${dayAndTime(stamp.at)}`,
  );
  return items.length === 0
    ? [
        {
          kind: 'paragraph',
          text: 'No store drained too slowly, none held a charge when it should not, no look was hurried.',
        },
      ]
    : [
        { kind: 'paragraph', text: 'Findings:' },
        { kind: 'list', items },
      ];
}
