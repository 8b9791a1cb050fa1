import type { ReportDocument, ReportSection } from '../../shared-core/report/report-document.ts';
import { drawBlock, drawFacts, drawParagraph, leastRoom } from './draw-blocks.ts';
import { drawPaper } from './draw-paper.ts';
import type { DrawnPaper } from './draw-paper.ts';
import { colours, types } from './faces.ts';
import type { Type } from './faces.ts';
import { glyphName } from './printable.ts';
import { page, rule, textWidth } from './sheet.ts';
import type { Struct } from './pdf-document.ts';
import type { Sheet } from './sheet.ts';

/** What may be told about the paper itself. */
export interface ReportPdfOptions {
  /** Hears which characters no font has; they are also listed at the end of the report. */
  readonly onMissingGlyphs?: (characters: readonly string[]) => void;
}

/** The report as a PDF on A4. */
export async function makeReportPdf(
  document: ReportDocument,
  options: ReportPdfOptions = {},
): Promise<Uint8Array> {
  return (await drawReport(document, options)).bytes;
}

/** The report as a PDF on A4, with its pages for a screen. */
export function drawReport(document: ReportDocument, options: ReportPdfOptions = {}): Promise<DrawnPaper> {
  const { title, maker, runningHead: subject, recordedAt: at } = document;
  return drawPaper(
    { title, maker, subject, at },
    (sheet, root) => {
      drawTitle(sheet, root, document);
      document.sections.forEach((section, index) => drawSection(sheet, root, section, index + 1));
      drawMissing(sheet, root, options);
    },
    (sheet) => drawRunningLines(sheet, document),
  );
}

function drawTitle(sheet: Sheet, root: Struct, document: ReportDocument): void {
  const section = sheet.pdf.struct('Sect');
  root.add(section);
  sheet.y = page.top - 14;
  const top = sheet.y;
  const kind: Type = { ...types.heading, face: 'plain', size: 13, leading: 18 };
  section.add(
    sheet.pdf.struct('H1', {}, () => {
      sheet.write(document.kitName, page.left, top + 12, types.name);
      sheet.write(document.paper ?? 'Build report', page.left + textWidth, top + 25, kind, { to: 'right' });
    }),
  );
  section.add(sheet.pdf.struct('P', {}, () => sheet.write(document.maker, page.left, top, types.label)));
  sheet.y = top + 52;
  sheet.decorate(() => rule(sheet.pdf, page.left, sheet.y, textWidth, colours.ink, 1.4));
  sheet.y += 9;
  drawFacts(sheet, section, document.titleBlock);
  drawParagraph(sheet, section, 'All times are UTC.', types.quiet);
  sheet.y += 4;
  section.end();
}

function drawSection(sheet: Sheet, root: Struct, { heading, blocks }: ReportSection, number: number): void {
  const section = sheet.pdf.struct('Sect', { title: heading });
  root.add(section);
  const [first, second] = blocks;
  const room = first?.kind === 'paragraph' ? 34 + leastRoom(second) : leastRoom(first);
  sheet.need(room + 40);
  if (sheet.y > page.top) sheet.y += 10;
  sheet.decorate(() => rule(sheet.pdf, page.left, sheet.y, textWidth, colours.ink, 0.7));
  sheet.y += 6;
  const top = sheet.y;
  section.add(
    sheet.pdf.struct('H2', {}, () => {
      sheet.write(String(number), page.left - 10, top, { ...types.heading, face: 'mono' }, { to: 'right' });
      sheet.write(heading, page.left, top, types.heading);
    }),
  );
  sheet.y = top + types.heading.leading + 5;
  for (const block of blocks) drawBlock(sheet, section, block);
  section.end();
}

/** Characters that could not be printed are named, never passed over. */
function drawMissing(sheet: Sheet, root: Struct, { onMissingGlyphs }: ReportPdfOptions): void {
  const characters = [...sheet.missing].toSorted();
  if (characters.length === 0) return;
  onMissingGlyphs?.(characters);
  const names = characters.map((each) => glyphName(each.codePointAt(0) ?? 0)).join(', ');
  sheet.need(40);
  drawParagraph(
    sheet,
    root,
    `The fonts of this report do not have these characters, which are printed by their Unicode names: ${names}.`,
    types.quiet,
  );
}

/** Head and foot of every page, once it is known how many there are. */
function drawRunningLines(sheet: Sheet, document: ReportDocument): void {
  const { pdf } = sheet;
  const { start, count } = pdf.bufferedPageRange();
  for (let index = start; index < start + count; index += 1) {
    pdf.switchToPage(index);
    pdf.markContent('Artifact', { type: 'Pagination' });
    const right = page.left + textWidth;
    if (index > start) {
      sheet.write(document.runningHead, page.left, 30, types.running);
      rule(pdf, page.left, 42, textWidth, colours.faint, 0.4);
    }
    const foot = page.height - 40;
    rule(pdf, page.left, foot - 5, textWidth, colours.faint, 0.4);
    sheet.write(document.runningFoot, page.left, foot, types.running);
    sheet.write(`Page ${index - start + 1} of ${count}`, right, foot, types.running, { to: 'right' });
    pdf.endMarkedContent();
  }
}
