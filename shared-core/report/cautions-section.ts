import type { AcknowledgedCaution } from '../journal/build-state.ts';
import type { CellLine, ReportRow, ReportSection } from './report-document.ts';
import type { ReportSource } from './report-source.ts';
import { conditionTitle, stepTitle } from './report-source.ts';
import { cell, dayOf, timeOf } from './words.ts';

/** Every caution that was acknowledged, with each time: they are asked anew before every plug-in. */
export function cautionsSection(source: ReportSource): ReportSection {
  const { cautions } = source.build;
  if (cautions.length === 0) {
    return {
      id: 'cautions',
      heading: 'Cautions acknowledged',
      blocks: [{ kind: 'paragraph', text: 'No caution was acknowledged.' }],
    };
  }
  const rows = groupsOf(cautions).flatMap(([about, texts]): readonly ReportRow[] => [
    { kind: 'group', text: titleOf(about, source) },
    ...[...texts].map(([text, times]): ReportRow => ({
      kind: 'cells',
      cells: [cell(text), { lines: dayLines(times) }],
    })),
  ]);
  return {
    id: 'cautions',
    heading: 'Cautions acknowledged',
    blocks: [
      {
        kind: 'table',
        title: 'Cautions and when they were acknowledged',
        rowHeading: 0,
        columns: [
          { heading: 'Caution', share: 74 },
          { heading: 'Acknowledged', share: 26 },
        ],
        rows,
      },
    ],
  };
}

/** `running:0` belongs to `running`. */
function groupsOf(
  cautions: readonly AcknowledgedCaution[],
): readonly (readonly [string, Map<string, string[]>])[] {
  const groups = new Map<string, Map<string, string[]>>();
  for (const { caution, text, at } of cautions) {
    const about = caution.replace(/:\d+$/, '');
    const texts = groups.get(about) ?? new Map<string, string[]>();
    texts.set(text, [...(texts.get(text) ?? []), at]);
    groups.set(about, texts);
  }
  return [...groups];
}

function titleOf(about: string, source: ReportSource): string {
  const title = conditionTitle(source, about);
  return title === about ? stepTitle(source, about) : title;
}

/** "7 Mar 2026 09:04, 10:11": a line for each day. */
function dayLines(times: readonly string[]): readonly CellLine[] {
  const days = new Map<string, string[]>();
  for (const at of times) days.set(dayOf(at), [...(days.get(dayOf(at)) ?? []), timeOf(at)]);
  return [...days].map(([day, all]) => ({ text: `${day} ${all.join(', ')}`, style: 'mono' }));
}
