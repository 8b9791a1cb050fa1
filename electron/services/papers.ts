import type { Paper, PaperChoice } from '../../shared-core/contract/calls.ts';
import type { RecordPhoto } from '../../shared-core/journal/build-record.ts';
import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import { readRecord } from '../../shared-core/journal/read-record.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import { makeBenchCard } from '../../shared-core/report/bench-card.ts';
import { makeReport } from '../../shared-core/report/make-report.ts';
import type { DrawnPaper } from '../pdf/draw-paper.ts';
import { cleanPhoto } from '../files/clean-photo.ts';
import { sha256 } from '../files/sha256.ts';
import type { BuildSession } from './build-session.ts';
import { recordOf } from './record-of.ts';
import type { BuildShelf } from './build-shelf.ts';

/** What papers are made from. */
export interface PaperSources {
  readonly shelf: BuildShelf;
  readonly version: string;
}

/** A paper, drawn: its PDF and its pages. */
export async function drawnPaper(
  { shelf, version }: PaperSources,
  paper: Paper,
): Promise<Result<DrawnPaper>> {
  if (paper.kind === 'record-report') {
    const record = readRecord(paper.text, sha256);
    if (!record.ok) return record;
    return succeed(
      await drawnReport(
        record.value,
        record.warnings.map(({ message }) => message),
      ),
    );
  }
  const session = await shelf.session(paper.build);
  if (!session.ok) return session;
  if (paper.kind === 'bench-card') return succeed(await drawnCard(session.value));
  return succeed(await drawnBuildReport(session.value, version, paper));
}

/** The report of a build as it stands. */
async function drawnBuildReport(
  session: BuildSession,
  version: string,
  { notes, photos }: PaperChoice,
): Promise<DrawnPaper> {
  const record = await recordOf(session, version, { photos: photos ?? [] });
  return drawnReport(record, [], notes ?? null);
}

/**
 * The report of a record, with those of its photos that can be shown.
 *
 * What draws is loaded with the first paper: it takes as long to load as all the rest, and most runs draw none.
 */
export async function drawnReport(
  record: BuildRecord,
  flaws: readonly string[],
  notes: readonly number[] | null = null,
): Promise<DrawnPaper> {
  const { photos, flaws: more } = await soundPhotos(record);
  const { drawReport } = await import('../pdf/make-report-pdf.ts');
  return drawReport(makeReport({ ...record, photos }, [...flaws, ...more], notes));
}

async function drawnCard(session: BuildSession): Promise<DrawnPaper> {
  const { source } = session.parts;
  const { conditions } = source.chosen;
  const predictions = await Promise.all(conditions.map(({ id }) => session.predict(id)));
  const expected = predictions.flatMap((each) => (each.ok ? each.value.readings : []));
  const { build, currentFacts: facts } = session;
  const { drawBenchCard } = await import('../pdf/draw-bench-card.ts');
  return drawBenchCard(makeBenchCard({ kit: source.chosen, facts, build, expected }));
}

/** The photos of a record that are pictures, and are those that the journal names; what became of the others. */
export async function soundPhotos({ photos }: Pick<BuildRecord, 'photos'>): Promise<{
  readonly photos: readonly RecordPhoto[];
  readonly flaws: readonly string[];
}> {
  const looked = await Promise.all(photos.map(soundPhoto));
  const bad = looked.filter((each) => each === null).length;
  const words = bad === 1 ? 'One photo in it' : `${bad} photos in it`;
  return {
    photos: looked.filter((each) => each !== null),
    flaws: bad === 0 ? [] : [`${words} cannot be shown: damaged, or not what the journal names.`],
  };
}

async function soundPhoto(photo: RecordPhoto): Promise<RecordPhoto | null> {
  const bytes = Buffer.from(photo.base64, 'base64');
  const clean = await cleanPhoto(bytes);
  // What the app keeps is clean already: cleaning it again gives the same bytes, and so the same hash.
  if (!clean.ok || sha256(clean.value.bytes) !== photo.sha256) return null;
  return photo.file === `${photo.sha256}.${clean.value.ending}` ? photo : null;
}
