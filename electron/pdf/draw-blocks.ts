import { assertNever } from '../../shared-core/problem/assert-never.ts';
import type {
  Fact,
  ReportBlock,
  ReportFigures,
  ReportStoryLine,
} from '../../shared-core/report/report-document.ts';
import { drawScene, sceneHeight } from './draw-scene.ts';
import { drawPhotos, leastPhotoRoom } from './draw-photos.ts';
import { drawTable } from './draw-table.ts';
import { colours, types } from './faces.ts';
import type { Type } from './faces.ts';
import { page, rule, textWidth } from './sheet.ts';
import type { Struct } from './pdf-document.ts';
import type { Sheet } from './sheet.ts';

const after = 6;

/** Sets one block of a section. */
export function drawBlock(sheet: Sheet, section: Struct, block: ReportBlock): void {
  switch (block.kind) {
    case 'paragraph':
      drawParagraph(sheet, section, block.text, block.quiet === true ? types.quiet : types.text);
      sheet.y += after;
      return;
    case 'notice':
      return drawNotice(sheet, section, block.word, block.paragraphs);
    case 'facts':
      return drawFacts(sheet, section, block.facts);
    case 'list':
      return drawList(sheet, section, block.items);
    case 'table':
      return drawTable(sheet, section, block);
    case 'figures':
      return drawFigures(sheet, section, block);
    case 'photos':
      return drawPhotos(sheet, section, block.photos);
    case 'story':
      return drawStory(sheet, section, block.lines);
    case 'signature':
      return drawSignature(sheet, section, block.text);
    default:
      return assertNever(block);
  }
}

/** What a block wants to have under its heading, so that no heading stands alone at the foot of a page. */
export function leastRoom(block: ReportBlock | undefined): number {
  switch (block?.kind) {
    case 'figures': {
      const width = block.columns === 1 ? textWidth : (textWidth - 14) / 2;
      return (
        sceneHeight(block.figures[0]?.scene ?? { width: 1, height: 0, title: '', items: [] }, width) + 40
      );
    }
    case 'table':
      return 90;
    case 'signature':
      return 90;
    case 'photos':
      return leastPhotoRoom;
    case undefined:
      return 0;
    default:
      return 48;
  }
}

/** Lines that may run on to the next page, never with a single line left behind where two would go over. */
export function drawParagraph(
  sheet: Sheet,
  parent: Struct,
  text: string,
  type: Type,
  place: { readonly x: number; readonly width: number } = { x: page.left, width: textWidth },
  tag = 'P',
): void {
  const element = sheet.pdf.struct(tag);
  parent.add(element);
  let lines = sheet.lines(text, type, place.width);
  while (lines.length > 0) {
    const whole = Math.floor(sheet.room() / type.leading);
    const fits =
      whole >= lines.length ? lines.length : whole < 2 ? 0 : lines.length - whole === 1 ? whole - 1 : whole;
    if (fits === 0) {
      if (!sheet.need(type.leading * 2)) break;
      continue;
    }
    const now = lines.slice(0, fits);
    lines = lines.slice(fits);
    const top = sheet.y;
    element.add(() =>
      now.forEach((line, index) => sheet.write(line, place.x, top + index * type.leading, type)),
    );
    sheet.y = top + now.length * type.leading;
    if (lines.length > 0) sheet.need(sheet.room() + 1);
  }
  element.end();
}

/** A statement set apart: signal word, and a rule of its colour beside it. */
function drawNotice(sheet: Sheet, section: Struct, word: string, paragraphs: readonly string[]): void {
  const place = { x: page.left + 92, width: textWidth - 92 };
  const height = paragraphs.reduce(
    (sum, text) => sum + sheet.lines(text, types.text, place.width).length * types.text.leading + 4,
    0,
  );
  sheet.need(height);
  const top = sheet.y;
  const wordType: Type = { ...types.strong, size: 10 };
  section.add(sheet.pdf.struct('P', {}, () => sheet.write(word, page.left + 24, top, wordType)));
  sheet.decorate(() => drawAlert(sheet, page.left, top - 1));
  paragraphs.forEach((text, index) => {
    drawParagraph(sheet, section, text, index === 0 ? types.strong : types.text, place);
    sheet.y += 4;
  });
  sheet.y += after;
}

/** The safety alert sign of ISO 3864 for a warning: triangle with an upright. */
function drawAlert(sheet: Sheet, x: number, y: number): void {
  const { pdf } = sheet;
  pdf.lineJoin('round').lineWidth(1.3);
  pdf.path(`M${x + 9} ${y}L${x + 18} ${y + 15}L${x} ${y + 15}Z`).fillAndStroke('#f9a800', colours.ink);
  pdf
    .path(`M${x + 8.2} ${y + 5}L${x + 9.8} ${y + 5}L${x + 9.5} ${y + 10}L${x + 8.5} ${y + 10}Z`)
    .fill(colours.ink);
  pdf.circle(x + 9, y + 12.2, 0.9).fill(colours.ink);
}

/** Names in a narrow column, texts beside them: a table of two columns without its lines. */
export function drawFacts(sheet: Sheet, section: Struct, facts: readonly Fact[], nameWidth = 124): void {
  const { pdf } = sheet;
  const place = { x: page.left + nameWidth, width: textWidth - nameWidth };
  const list = pdf.struct('L');
  section.add(list);
  for (const { name, text, mono, strong } of facts) {
    const type = mono === true ? types.mono : strong === true ? types.strong : types.text;
    const lines = sheet.lines(text, type, place.width);
    sheet.need(Math.min(lines.length, 3) * type.leading + 3);
    const item = pdf.struct('LI');
    list.add(item);
    const top = sheet.y;
    item.add(pdf.struct('Lbl', {}, () => sheet.write(name, page.left, top, types.label)));
    drawParagraph(sheet, item, text, type, place, 'LBody');
    item.end();
    sheet.y += 1.6;
  }
  list.end();
  sheet.y += after;
}

function drawList(sheet: Sheet, section: Struct, items: readonly string[]): void {
  const { pdf } = sheet;
  const place = { x: page.left + 12, width: textWidth - 12 };
  const list = pdf.struct('L');
  section.add(list);
  for (const text of items) {
    sheet.need(types.text.leading * Math.min(2, sheet.lines(text, types.text, place.width).length));
    const item = pdf.struct('LI');
    list.add(item);
    const top = sheet.y;
    item.add(pdf.struct('Lbl', {}, () => sheet.write('–', page.left, top, types.text)));
    drawParagraph(sheet, item, text, types.text, place, 'LBody');
    item.end();
    sheet.y += 2;
  }
  list.end();
  sheet.y += after;
}

function drawFigures(sheet: Sheet, section: Struct, { columns, figures }: ReportFigures): void {
  const between = 14;
  const width = columns === 1 ? textWidth : (textWidth - between) / 2;
  for (let start = 0; start < figures.length; start += columns) {
    const row = figures.slice(start, start + columns);
    const captions = row.map(({ caption }) => sheet.lines(caption, types.quiet, width));
    const drawn = Math.max(...row.map(({ scene }) => sceneHeight(scene, width)));
    const most = Math.max(...captions.map((lines) => lines.length));
    sheet.need(drawn + most * types.quiet.leading + 6);
    const top = sheet.y;
    row.forEach(({ scene }, index) => {
      const x = page.left + index * (width + between);
      const bbox = [x, top, x + width, top + drawn];
      const options = { alt: scene.title, bbox, placement: 'Block' } as PDFKit.Mixins.StructureElementOptions;
      section.add(sheet.pdf.struct('Figure', options, () => drawScene(sheet, scene, x, top, width)));
      const lines = captions[index] ?? [];
      const caption = sheet.pdf.struct('Caption', {}, () => {
        lines.forEach((line, at) =>
          sheet.write(line, x, top + drawn + 2 + at * types.quiet.leading, types.quiet),
        );
      });
      section.add(caption);
    });
    sheet.y = top + drawn + most * types.quiet.leading + 8;
  }
  sheet.y += after;
}

/** The story: day and time at the left, energy state as a shape, the sentence. */
function drawStory(sheet: Sheet, section: Struct, lines: readonly ReportStoryLine[]): void {
  const { pdf } = sheet;
  const place = { x: page.left + 118, width: textWidth - 118 };
  const list = pdf.struct('L');
  section.add(list);
  for (const { day, time, energy, text, strong } of lines) {
    const type = strong ? types.strong : types.text;
    sheet.need(Math.min(sheet.lines(text, type, place.width).length, 3) * type.leading);
    const top = sheet.y;
    const item = pdf.struct('LI');
    list.add(item);
    item.add(
      pdf.struct('Lbl', {}, () => {
        sheet.write(day, page.left, top, types.label);
        sheet.write(time, page.left + 66, top, types.mono);
      }),
    );
    sheet.decorate(() => drawEnergy(sheet, energy, page.left + 105, top + 6.4));
    drawParagraph(sheet, item, text, type, place, 'LBody');
    item.end();
    sheet.y += 1.6;
  }
  list.end();
  sheet.y += after;
}

function drawEnergy(sheet: Sheet, energy: ReportStoryLine['energy'], x: number, y: number): void {
  const { pdf } = sheet;
  const radius = 3.2;
  pdf.lineWidth(1);
  if (energy === 'live')
    pdf.rect(x - radius, y - radius, radius * 2, radius * 2).fillAndStroke(colours.danger, colours.danger);
  else if (energy === 'draining') {
    const half = `M${x} ${y - radius}A${radius} ${radius} 0 0 0 ${x} ${y + radius}Z`;
    pdf.path(half).fill(colours.warning);
    pdf.circle(x, y, radius).stroke(colours.warning);
  } else pdf.circle(x, y, radius).stroke(colours.safe);
}

/** What the app knows, and a line for pen and ink. */
function drawSignature(sheet: Sheet, section: Struct, text: string): void {
  sheet.need(74);
  drawParagraph(sheet, section, text, types.text);
  sheet.y += 34;
  const wide = textWidth * 0.6;
  const top = sheet.y;
  sheet.decorate(() => {
    rule(sheet.pdf, page.left, top, wide - 14);
    rule(sheet.pdf, page.left + wide, top, textWidth - wide);
  });
  section.add(
    sheet.pdf.struct('P', {}, () => {
      sheet.write('Signature of the builder', page.left, top + 2, types.quiet);
      sheet.write('Date', page.left + wide, top + 2, types.quiet);
    }),
  );
  sheet.y = top + 20;
}
