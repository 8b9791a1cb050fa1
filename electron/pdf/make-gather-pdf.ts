import { gatherDocument } from '../../shared-core/feedback/gather-document.ts';
import type { GatherReport } from '../../shared-core/feedback/gather-report.ts';
import { makeReportPdf } from './make-report-pdf.ts';

/** The first-run report of a kit as a PDF on A4, in the look of the build report. */
export function makeGatherPdf(report: GatherReport): Promise<Uint8Array> {
  return makeReportPdf(gatherDocument(report));
}
