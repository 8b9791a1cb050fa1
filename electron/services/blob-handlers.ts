import type { BlobFile } from '../../shared-core/contract/calls.ts';
import { recordText } from '../../shared-core/journal/build-record.ts';
import { readRecord } from '../../shared-core/journal/read-record.ts';
import { readPhoto } from '../files/photo-files.ts';
import { sha256 } from '../files/sha256.ts';
import type { BuildSession } from './build-session.ts';
import { drawnPaper, drawnReport } from './papers.ts';
import { recordOf } from './record-of.ts';
import type { BlobHandlers, ServiceContext } from './service-context.ts';

/** Largest blob, in bytes; a record or a report is as large as the photos in it, which are capped themselves. */
const largestBlob = 10_000_000;

/** Pictures that a screen may get, by their ending. */
const pictureTypes: Readonly<Record<string, string>> = {
  svg: 'image/svg+xml',
  png: 'image/png',
  jpg: 'image/jpeg',
  jpeg: 'image/jpeg',
};

/** A handler for every blob; null where there is no such thing. */
export function blobHandlers({ shelf, version }: ServiceContext): BlobHandlers {
  return {
    report: async ({ build, notes, photos }) => {
      const session = await shelf.session(build);
      if (!session.ok) return null;
      const drawn = await drawnPaper({ shelf, version }, { kind: 'report', build, notes, photos });
      if (!drawn.ok) return null;
      await noteExport(session.value, 'report');
      return { bytes: drawn.value.bytes, type: pdfType, name: `${fileName(session.value)}.pdf` };
    },
    record: async ({ build, photos, question }) => {
      const session = await shelf.session(build);
      if (!session.ok) return null;
      const record = await recordOf(session.value, version, { photos: photos ?? [], question });
      const bytes = new TextEncoder().encode(recordText(record));
      await noteExport(session.value, 'record');
      const asked = question === undefined ? '' : '-question';
      return { bytes, type: 'application/json', name: `${fileName(session.value)}${asked}.kitwright.json` };
    },
    'bench-card': async ({ build }) => {
      const session = await shelf.session(build);
      if (!session.ok) return null;
      const drawn = await drawnPaper({ shelf, version }, { kind: 'bench-card', build });
      if (!drawn.ok) return null;
      return small({
        ...{ bytes: drawn.value.bytes, type: pdfType, name: `${fileName(session.value)}-bench-card.pdf` },
      });
    },
    photo: async ({ build, file }) => {
      const session = await shelf.session(build);
      if (!session.ok) return null;
      const photo = await readPhoto(session.value.parts.paths, file);
      return photo && small({ bytes: photo.bytes, type: photo.type, name: photo.file });
    },
    picture: async ({ build, path }) => {
      const session = await shelf.session(build);
      if (!session.ok) return null;
      const { files } = session.value.parts.kit.folder;
      const type = pictureTypes[path.slice(path.lastIndexOf('.') + 1).toLowerCase()];
      const bytes = files.get(path);
      if (!bytes || type === undefined) return null;
      return small({ bytes, type, name: path.slice(path.lastIndexOf('/') + 1) });
    },
    'record-report': async ({ text }) => {
      const record = readRecord(text, sha256);
      if (!record.ok) return null;
      const { bytes } = await drawnReport(
        record.value,
        record.warnings.map(({ message }) => message),
      );
      const { kit, header } = record.value;
      return { bytes, type: pdfType, name: `${kit.id}-${header.build.slice(0, 8)}.pdf` };
    },
  };
}

const pdfType = 'application/pdf';

async function noteExport(session: BuildSession, what: 'record' | 'report'): Promise<void> {
  if (session.isWriter) await session.note({ kind: 'exported', by: 'hand', what });
}

function small(file: BlobFile): BlobFile | null {
  return file.bytes.length <= largestBlob ? file : null;
}

function fileName({ parts: { header } }: BuildSession): string {
  return `${header.kit}-${header.build.slice(0, 8)}`;
}
