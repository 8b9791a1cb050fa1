import type { BuildRecord } from '../../shared-core/journal/build-record.ts';

/** The PDF report of a record. */
export function reportPdfOf(record: BuildRecord, flaws: readonly string[]): Promise<Uint8Array> {
  return Promise.reject(new Error(`No report yet for ${record.header.build} (${flaws.length})`));
}
