import type { ReportSection, ReportStoryLine } from './report-document.ts';
import type { ReportSource } from './report-source.ts';
import { tellStory } from './story.ts';
import type { StoryKind } from './story-line.ts';
import { dayOf, timeOf } from './words.ts';

/** What the told story leaves to the tables. */
const inTables: ReadonlySet<StoryKind> = new Set<StoryKind>([
  'bench',
  'step',
  'caution',
  'reading',
  'look',
  'valve',
  'note',
  'other',
]);

const strongKinds: ReadonlySet<StoryKind> = new Set<StoryKind>(['stop', 'wrong', 'refused', 'lapse']);

/** Plug-ins, stops, findings and repairs in the order in which they happened. */
export function storySection(source: ReportSource): ReportSection {
  const told = tellStory(source).filter(({ kind }) => !inTables.has(kind));
  const lines = told.map(({ at, energy, text, kind }, index): ReportStoryLine => {
    const before = told[index - 1];
    const isNewDay = before === undefined || dayOf(before.at) !== dayOf(at);
    return { day: isNewDay ? dayOf(at) : '', time: timeOf(at), energy, text, strong: strongKinds.has(kind) };
  });
  return {
    id: 'story',
    heading: 'What happened, in order',
    blocks: [
      {
        kind: 'paragraph',
        text: 'The shape at the end of each line is the energy state from then on: filled red, live; half, draining; open green, dead.',
        quiet: true,
      },
      { kind: 'story', lines },
    ],
  };
}
