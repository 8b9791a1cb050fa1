import { benchSection, partsSection, signatureSection } from './bench-section.ts';
import { cautionsSection } from './cautions-section.ts';
import { drainSection } from './drain-section.ts';
import { notesSection, questionSections } from './notes-section.ts';
import { declaredSection, safetySection, summarySection, titleBlock } from './opening-sections.ts';
import { deviationsSection, readingsSection } from './readings-section.ts';
import type { ReportDocument } from './report-document.ts';
import { reportReadings } from './report-source.ts';
import type { ReportSource } from './report-source.ts';
import { storySection } from './story-section.ts';

/** When a record has no event to take a time from. */
const noTime = '1970-01-01T00:00:00.000Z';

/**
 * The report of a build, from its record alone: the kit file is never needed.
 *
 * @param source A record, or the same parts of an open build.
 * @param flaws What the reader of the record found wrong with its chain, in sentences; printed as they are.
 * @param notes Places of the notes to print, in the build's list; null for all of them.
 */
export function makeReport(
  source: ReportSource,
  flaws: readonly string[] = [],
  notes: readonly number[] | null = null,
): ReportDocument {
  const { kit, build } = source;
  const readings = reportReadings(source);
  const builder = build.signature === null ? 'not signed' : build.signature.name;
  return {
    title: `${kit.name}, build report`,
    kitName: kit.name,
    maker: kit.maker,
    runningHead: `${kit.name}, revision ${build.revision} · build report · ${builder}`,
    runningFoot: `Not a compliance assessment. Build ${build.build.slice(0, 8)}, kit file ${build.kitHash.slice(0, 12)}`,
    titleBlock: titleBlock(source),
    recordedAt: build.lastAt ?? build.startedAt ?? noTime,
    sections: [
      safetySection(),
      ...questionSections(source),
      summarySection(source, readings, flaws),
      benchSection(source),
      partsSection(source),
      declaredSection(source),
      deviationsSection(source, readings),
      readingsSection(source, readings),
      storySection(source),
      drainSection(source),
      cautionsSection(source),
      notesSection(source, notes),
      signatureSection(source),
    ],
  };
}
