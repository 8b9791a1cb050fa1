import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import { makeReport } from '../../shared-core/report/make-report.ts';

/**
 * The PDF report of a record; `flaws` of its chain are printed in it.
 *
 * What draws is loaded with the first report: it takes as long to load as all the rest, and most runs draw none.
 */
export async function reportPdfOf(record: BuildRecord, flaws: readonly string[]): Promise<Uint8Array> {
  const { makeReportPdf } = await import('../pdf/make-report-pdf.ts');
  return makeReportPdf(makeReport(record, flaws));
}
