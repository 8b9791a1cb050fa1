import type { BuildRecord } from '../../shared-core/journal/build-record.ts';
import { makeReport } from '../../shared-core/report/make-report.ts';
import { makeReportPdf } from '../pdf/make-report-pdf.ts';

/** The PDF report of a record; `flaws` of its chain are printed in it. */
export function reportPdfOf(record: BuildRecord, flaws: readonly string[]): Promise<Uint8Array> {
  return makeReportPdf(makeReport(record, flaws));
}
