import PDFDocument from 'pdfkit';
import type { PaperPage } from '../../shared-core/report/paper-page.ts';
import { recordPages } from './page-recorder.ts';
import { makeSheet, page } from './sheet.ts';
import type { Struct } from './pdf-document.ts';
import type { Sheet } from './sheet.ts';

/** A paper that was drawn: the PDF, and its very pages for a screen to show. */
export interface DrawnPaper {
  readonly bytes: Uint8Array;
  readonly pages: readonly PaperPage[];
}

/** What a PDF says of itself. */
export interface PaperHead {
  readonly title: string;
  readonly maker: string;
  readonly subject: string;
  /** UTC ISO text: a paper has no clock of its own. */
  readonly at: string;
}

/**
 * Draws a paper on A4, tagged, with embedded fonts and selectable text. Equal input gives equal bytes: the only time
 * in it is the one given.
 *
 * @param draw Draws the content; the first page is there, and `root` is the element that everything belongs to.
 * @param finish Draws what is no content, once it is known how many pages there are.
 */
export async function drawPaper(
  { title, maker, subject, at }: PaperHead,
  draw: (sheet: Sheet, root: Struct) => void,
  finish: (sheet: Sheet) => void = () => undefined,
): Promise<DrawnPaper> {
  const given = new Date(at);
  const time = Number.isNaN(given.getTime()) ? new Date(0) : given;
  const document = new PDFDocument({
    size: [page.width, page.height],
    margin: 0,
    autoFirstPage: false,
    bufferPages: true,
    pdfVersion: '1.7',
    tagged: true,
    lang: 'en-GB',
    displayTitle: true,
    font: null as unknown as string,
    info: {
      Title: title,
      Author: maker,
      Subject: subject,
      Creator: 'Kitwright',
      Producer: 'Kitwright',
      CreationDate: time,
      ModDate: time,
    },
  });
  const bytes = collect(document);
  const recorded = recordPages(document);
  const sheet = makeSheet(recorded);
  const root = document.struct('Document');
  document.addStructure(root);
  draw(sheet, root);
  root.end();
  finish(sheet);
  const pages = recorded.pages();
  document.end();
  return { bytes: await bytes, pages };
}

function collect(pdf: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Buffer[] = [];
    pdf.on('data', (chunk: Buffer) => chunks.push(chunk));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    pdf.on('error', reject);
  });
}
