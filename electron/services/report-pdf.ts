import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import { drawnReport } from './papers.ts';

/** The PDF report of a record; `flaws` of its chain are printed in it. */
export async function reportPdfOf(record: BuildRecord, flaws: readonly string[]): Promise<Uint8Array> {
  return (await drawnReport(record, flaws)).bytes;
}
