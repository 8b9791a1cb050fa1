import type { RecordKit, RecordPhoto, RecordQuestion } from '../../shared-core/journal/build-record.ts';
import { makeRecord } from '../../shared-core/journal/build-record.ts';
import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import { readPhoto } from '../files/photo-files.ts';
import { sha256 } from '../files/sha256.ts';
import type { BuildSession } from './build-session.ts';

/** What goes along with a record by the builder's choice. */
export interface AlongWith {
  /** Files of photos. */
  readonly photos: readonly string[];
  readonly question?: RecordQuestion | undefined;
}

/** The record of a build as it stands, with its readings seen together where the engine can. */
export async function recordOf(
  session: BuildSession,
  app: string,
  { photos: chosen, question }: AlongWith,
): Promise<BuildRecord> {
  const { header, source } = session.parts;
  const { entries, build, currentFacts: facts } = session;
  const seen = await session.together('record');
  const judgement = seen.ok ? seen.value.judgement : null;
  const record = makeRecord(
    {
      app,
      kit: recordKit(source.chosen, header.kitHash),
      header,
      ...{ entries, build, facts },
      photos: await photosOf(session, new Set([...chosen, ...(question?.photos ?? [])])),
      ...(question === undefined ? {} : { question }),
      ...(judgement === null ? {} : { together: judgement }),
    },
    sha256,
  );
  if (record === null) throw new Error('A journal with an entry that cannot be written down');
  return record;
}

/** The photos chosen that the journal names and that are there, in the order in which they were taken. */
async function photosOf(
  { build, parts }: BuildSession,
  chosen: ReadonlySet<string>,
): Promise<readonly RecordPhoto[]> {
  const files = new Map(build.photos.map(({ file, sha256: hash }) => [file, hash]));
  const photos = await Promise.all(
    [...files]
      .filter(([file]) => chosen.has(file))
      .map(async ([file, hash]) => {
        const stored = await readPhoto(parts.paths, file);
        return stored && { file, sha256: hash, base64: Buffer.from(stored.bytes).toString('base64') };
      }),
  );
  return photos.filter((photo) => photo !== null);
}

/** What a report says about a kit. */
function recordKit(kit: ChosenKit, kitHash: string): RecordKit {
  const { id, name, maker, revision, safeVolts } = kit;
  return {
    ...{ id, name, maker, revision, kitHash, safeVolts },
    conditions: kit.conditions.map((each) => ({ id: each.id, title: each.title })),
    chapters: kit.chapters.map((each) => ({ id: each.id, title: each.title })),
    steps: kit.chapters.flatMap((chapter) =>
      chapter.steps.map((step) => ({ id: step.id, title: step.title, chapter: chapter.id })),
    ),
    readings: kit.readings.map((reading) => ({
      id: reading.id,
      title: reading.title,
      at: reading.at,
      against: reading.against,
      measure: reading.measure,
      unit: unitOf(reading.measure),
      in: reading.in,
    })),
    parts: Object.fromEntries(kit.parts.map((part) => [part.id, part.title])),
  };
}

function unitOf(measure: RecordKit['readings'][number]['measure']): 'V' | 'Ω' | '' {
  return measure === 'gain' ? '' : measure === 'ohms' || measure === 'insulation' ? 'Ω' : 'V';
}
