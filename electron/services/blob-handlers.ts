import type { BlobFile } from '../../shared-core/contract/calls.ts';
import { recordText } from '../../shared-core/journal/build-record.ts';
import { readRecord } from '../../shared-core/journal/read-record.ts';
import { sha256 } from '../files/sha256.ts';
import type { BuildSession } from './build-session.ts';
import { recordOf } from './record-of.ts';
import type { BlobHandlers, ServiceContext } from './service-context.ts';

/** Largest blob, in bytes. */
const largestBlob = 10_000_000;

/** Pictures that a screen may get, by their ending. */
const pictureTypes: Readonly<Record<string, string>> = {
  svg: 'image/svg+xml',
  png: 'image/png',
  jpg: 'image/jpeg',
  jpeg: 'image/jpeg',
};

/** A handler for every blob; null where there is no such thing. */
export function blobHandlers({ shelf, version, reportPdf }: ServiceContext): BlobHandlers {
  return {
    report: async ({ build }) => {
      const session = await shelf.session(build);
      if (!session.ok) return null;
      const bytes = await reportPdf(await recordOf(session.value, version), []);
      await noteExport(session.value, 'report');
      return small({ bytes, type: 'application/pdf', name: `${fileName(session.value)}.pdf` });
    },
    record: async ({ build }) => {
      const session = await shelf.session(build);
      if (!session.ok) return null;
      const bytes = new TextEncoder().encode(recordText(await recordOf(session.value, version)));
      await noteExport(session.value, 'record');
      return small({ bytes, type: 'application/json', name: `${fileName(session.value)}.kitwright.json` });
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
      const flaws = record.warnings.map(({ message }) => message);
      const bytes = await reportPdf(record.value, flaws);
      const { kit, header } = record.value;
      return small({ bytes, type: 'application/pdf', name: `${kit.id}-${header.build.slice(0, 8)}.pdf` });
    },
  };
}

async function noteExport(session: BuildSession, what: 'record' | 'report'): Promise<void> {
  if (session.isWriter) await session.note({ kind: 'exported', by: 'hand', what });
}

function small(file: BlobFile): BlobFile | null {
  return file.bytes.length <= largestBlob ? file : null;
}

function fileName({ parts: { header } }: BuildSession): string {
  return `${header.kit}-${header.build.slice(0, 8)}`;
}
