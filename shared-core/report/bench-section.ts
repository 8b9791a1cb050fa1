import type { Bench } from '../prediction/bench.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';
import type { Fact, ReportBlock, ReportSection } from './report-document.ts';
import type { ReportSource } from './report-source.ts';
import { partName } from './report-source.ts';
import { cell, dayAndTime, instrumentWords } from './words.ts';

/** What it was measured with. */
export function benchSection(source: ReportSource): ReportSection {
  const { build } = source;
  const { bench, probeStyle } = build;
  const blocks: readonly ReportBlock[] =
    bench === null
      ? [{ kind: 'paragraph', text: 'No bench was recorded.' }]
      : [
          {
            kind: 'facts',
            facts: [
              ...benchFacts(bench),
              { name: 'Probes above 60 V', text: probeStyle ?? 'not chosen' },
              ...instrumentFacts(source),
            ],
          },
        ];
  return { id: 'bench', heading: 'The bench', blocks };
}

/** Older records have none. */
function instrumentFacts({ build: { safety } }: ReportSource): readonly Fact[] {
  return (safety.instruments ?? []).map((instrument) => ({
    name: 'On a cable',
    text: instrumentWords(instrument),
  }));
}

function benchFacts({
  mains,
  meter,
  leads,
  lampWatts,
  batteryVolts,
  hasInsulationTester,
}: Bench): readonly Fact[] {
  const percent = (ratio: number): string => `±${formatQuantity(ratio, '%')}`;
  const input =
    meter.input.kind === 'fixed'
      ? `input ${formatQuantity(meter.input.ohms, 'Ω')}`
      : `${formatQuantity(meter.input.ohmsPerVolt, 'Ω')} per volt of the range`;
  const trust = mains.source === 'measured' ? 'measured, taken as ±1 %' : 'assumed, taken as ±6 %';
  return [
    {
      name: 'Mains',
      text: `${formatQuantity(mains.volts, 'V')}, ${formatQuantity(mains.hertz, 'Hz')}, ${trust}`,
    },
    { name: 'Meter', text: `${meter.label}; ${input}` },
    {
      name: 'Accuracy',
      text: `DC volts ${percent(meter.accuracy.dcVolts)}, AC volts ${percent(meter.accuracy.acVolts)}, ohms ${percent(meter.accuracy.ohms)}`,
    },
    {
      name: 'Ratings',
      text: `meter ${formatQuantity(meter.ratedVolts, 'V')}, ${meter.category === 'none' ? 'no category' : meter.category}; leads ${formatQuantity(leads.ratedVolts, 'V')}, ${formatQuantity(leads.ohms, 'Ω')}`,
    },
    {
      name: 'Lamp limiter',
      text: lampWatts === null ? 'none' : `filament lamp of ${formatQuantity(lampWatts, 'W')}`,
    },
    {
      name: 'Meter check',
      text:
        batteryVolts === null
          ? 'no battery; stores seen falling'
          : `battery marked ${formatQuantity(batteryVolts, 'V')}`,
    },
    { name: 'Insulation tester', text: hasInsulationTester ? '500 V' : 'none' },
  ];
}

/** Valves socket by socket, fuses, and parts that differ from the kit's list. */
export function partsSection(source: ReportSource): ReportSection {
  const { build } = source;
  return {
    id: 'parts',
    heading: 'Valves, fuses and other parts',
    blocks: [
      ...valveBlocks(source),
      ...fuseBlocks(source),
      ...measuredBlocks(source),
      ...differingBlocks(build.differing, source),
    ],
  };
}

function valveBlocks(source: ReportSource): readonly ReportBlock[] {
  const valves = Object.entries(source.build.valves);
  if (valves.length === 0) return [{ kind: 'paragraph', text: 'No valve is recorded as fitted.' }];
  const rows = valves.map(([socket, valve]) => ({
    kind: 'cells' as const,
    cells: [
      cell(partName(source, socket), 'bold'),
      cell(valve.type),
      cell(valve.brand || 'not noted'),
      cell(valve.dateCode || 'not noted', valve.dateCode === '' ? 'plain' : 'mono'),
      cell(valve.stock),
      cell(valve.label || 'none'),
    ],
  }));
  return [
    {
      kind: 'table',
      title: 'Valves in their sockets',
      rowHeading: 0,
      columns: [
        { heading: 'Socket', share: 34 },
        { heading: 'Type', share: 12 },
        { heading: 'Brand', share: 18 },
        { heading: 'Date code', share: 14 },
        { heading: 'Stock', share: 12 },
        { heading: 'Label', share: 14 },
      ],
      rows,
    },
  ];
}

function fuseBlocks(source: ReportSource): readonly ReportBlock[] {
  const { fuses } = source.build;
  if (fuses.length === 0) return [{ kind: 'paragraph', text: 'No fuse marking was read back.' }];
  const items = fuses.map(
    ({ part, what, speed, amps, at }) =>
      `${partName(source, part)}: ${speed} ${formatQuantity(amps, 'A')}, ${what}, ${dayAndTime(at)}`,
  );
  return [{ kind: 'list', items }];
}

function measuredBlocks(source: ReportSource): readonly ReportBlock[] {
  const measured = Object.entries(source.build.fitted.measured);
  if (measured.length === 0) return [];
  const texts = measured.map(([part, value]) => `${part} ${formatQuantity(value, unitOf(part))}`);
  return [
    {
      kind: 'paragraph',
      text: `Measured before fitting, and used in the expectations: ${texts.join(', ')}.`,
    },
  ];
}

/** By the trade's letters: R in ohms, C in farads, L in henries. */
function unitOf(part: string): Unit {
  return ({ R: 'Ω', P: 'Ω', C: 'F', L: 'H' } as const)[part.charAt(0)] ?? '';
}

function differingBlocks(
  differing: ReportSource['build']['differing'],
  source: ReportSource,
): readonly ReportBlock[] {
  const items = Object.entries(differing).map(
    ([part, { how, what }]) => `${partName(source, part)}: ${how}. ${what}`,
  );
  return items.length === 0
    ? [{ kind: 'paragraph', text: 'Nothing fitted instead of the kit’s own parts, and nothing missing.' }]
    : [{ kind: 'list', items }];
}

/** The line to sign on. */
export function signatureSection({ build }: ReportSource): ReportSection {
  const text =
    build.signature === null
      ? 'Not signed in the app.'
      : `Signed in the app: ${build.signature.name}, ${dayAndTime(build.signature.at)}`;
  return { id: 'signature', heading: 'Signature', blocks: [{ kind: 'signature', text }] };
}
