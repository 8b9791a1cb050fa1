import type { NoteRecord } from '../journal/build-state.ts';
import type { ReportBlock, ReportPhoto, ReportSection } from './report-document.ts';
import type { ReportSource } from './report-source.ts';
import { counted, dayOf, timeOf } from './words.ts';

/**
 * Notes, photos and changes of the kit.
 *
 * @param chosen Places in the build's list of notes; null for all of them. That some were left out is said.
 */
export function notesSection(source: ReportSource, chosen: readonly number[] | null): ReportSection {
  const { build } = source;
  const notes = build.notes.filter((_, index) => chosen?.includes(index) ?? true);
  const photos = reportPhotos(source, new Set(source.question?.photos));
  const blocks: readonly ReportBlock[] = [
    ...noteBlocks(source, notes),
    ...(photos.length === 0 ? [] : [{ kind: 'photos' as const, photos }]),
    ...leftOut(build.notes.length - notes.length, leftPhotos(source)),
    ...changeBlocks(source),
  ];
  return { id: 'notes', heading: photos.length === 0 ? 'Notes' : 'Notes and photos', blocks };
}

/** What the builder asks the maker, with the photos that belong to it; no section where nothing is asked. */
export function questionSections(source: ReportSource): readonly ReportSection[] {
  const { question } = source;
  if (question === undefined) return [];
  const asked = new Set(question.photos);
  const others = source.photos.filter(({ file }) => !asked.has(file)).map(({ file }) => file);
  const photos = reportPhotos(source, new Set(others));
  return [
    {
      id: 'question',
      heading: 'A question to the maker',
      blocks: [
        { kind: 'facts', facts: [{ name: 'About', text: aboutWords(source, question.about) }] },
        ...paragraphsOf(question.text),
        ...(photos.length === 0 ? [] : [{ kind: 'photos' as const, photos }]),
      ],
    },
  ];
}

/** "Fit C1", "Cathode of V2": the title of the step or reading that something is about. */
export function aboutWords({ kit }: Pick<ReportSource, 'kit'>, about: string | null): string {
  if (about === null) return 'The build';
  return [...kit.steps, ...kit.readings].find(({ id }) => id === about)?.title ?? about;
}

function whenWords(source: ReportSource, { about, at }: NoteRecord): string {
  return `${aboutWords(source, about)} (${dayOf(at)}, ${timeOf(at)})`;
}

function noteBlocks(source: ReportSource, notes: readonly NoteRecord[]): readonly ReportBlock[] {
  const { notes: all, photos } = source.build;
  if (all.length + photos.length === 0) return [{ kind: 'paragraph', text: 'The builder wrote no notes.' }];
  const items = notes.map((note) => `${whenWords(source, note)}: ${note.text}`);
  return items.length === 0 ? [] : [{ kind: 'list', items }];
}

/** Photos that came along, but for some, in the order in which they were taken. */
function reportPhotos(source: ReportSource, but: ReadonlySet<string>): readonly ReportPhoto[] {
  const { photos: taken } = source.build;
  const place = (file: string): number => taken.findIndex((each) => each.file === file);
  return source.photos
    .filter(({ file }) => !but.has(file))
    .toSorted((one, other) => place(one.file) - place(other.file))
    .map(({ file, base64 }) => {
      const own = taken[place(file)];
      if (own === undefined) return { file, base64, title: 'A photo', caption: 'Not named in the journal.' };
      const words = own.text === '' ? '' : `: ${own.text}`;
      return { file, base64, title: titleOf(source, own), caption: `${whenWords(source, own)}${words}` };
    });
}

function titleOf(source: ReportSource, { about, text }: NoteRecord): string {
  return text === '' ? `Photo at “${aboutWords(source, about)}”` : `Photo: ${text}`;
}

function leftPhotos({ build, photos }: ReportSource): number {
  const files = new Set(photos.map(({ file }) => file));
  return new Set(build.photos.map(({ file }) => file).filter((file) => !files.has(file))).size;
}

function leftOut(notes: number, photos: number): readonly ReportBlock[] {
  const parts = [
    ...(notes === 0 ? [] : [counted(notes, 'note')]),
    ...(photos === 0 ? [] : [counted(photos, 'photo')]),
  ];
  if (parts.length === 0) return [];
  return [{ kind: 'paragraph', text: `Left out by the builder’s choice: ${parts.join(', ')}.`, quiet: true }];
}

function changeBlocks({ build }: ReportSource): readonly ReportBlock[] {
  const items = build.kitChanges.map(
    ({ at, revision }) => `${dayOf(at)}, ${timeOf(at)}: revision ${revision} taken over`,
  );
  return items.length === 0 ? [] : [{ kind: 'list', items }];
}

/** Text as it was typed: each of its lines a paragraph. */
function paragraphsOf(text: string): readonly ReportBlock[] {
  const lines = text.split(/\n+/).filter((line) => line.trim() !== '');
  return lines.map((line) => ({ kind: 'paragraph', text: line }));
}
