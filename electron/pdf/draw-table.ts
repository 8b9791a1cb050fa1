import type {
  ReportCell,
  ReportColumn,
  ReportRow,
  ReportTable,
} from '../../shared-core/report/report-document.ts';
import { drawScene, sceneHeight } from './draw-scene.ts';
import { cellTypes, colours } from './faces.ts';
import type { Type } from './faces.ts';
import { columnHeading, page, pageRoom, rule, textWidth } from './sheet.ts';
import type { Struct } from './pdf-document.ts';
import type { Sheet } from './sheet.ts';

const gutter = 8;
const padding = 3;
const markWidth = 11;
const groupType: Type = { ...cellTypes.bold, leading: 13 };

/** A line of a cell, broken to the column's width. */
interface SetLine {
  readonly text: string;
  readonly type: Type;
}

interface Column extends ReportColumn {
  readonly x: number;
  readonly width: number;
}

/** `scope` is a part of tagged tables that the types of pdfkit leave out. */
type Options = PDFKit.Mixins.StructureElementOptions & { readonly scope?: 'Column' | 'Row' };

/**
 * A table: its head again on every page, no row divided, no group title left alone at the foot.
 *
 * A row higher than a whole page, which only a very long text can make, is continued on the next.
 */
export function drawTable(sheet: Sheet, section: Struct, table: ReportTable): void {
  const columns = layColumns(table.columns);
  const struct = sheet.pdf.struct('Table', { title: table.title });
  section.add(struct);
  const rows = table.rows.map((row) => setRow(sheet, row, columns));
  sheet.need(headHeight(sheet, columns) + heightWithNext(rows, 0));
  drawHead(sheet, columns, struct);
  rows.forEach((row, index) => {
    const height = Math.min(heightWithNext(rows, index), pageRoom - headHeight(sheet, columns));
    if (sheet.need(height)) drawHead(sheet, columns, null);
    if (row.kind === 'group') drawGroup(sheet, row, struct, columns.length);
    else drawCells(sheet, row, columns, struct, table.rowHeading);
  });
  struct.end();
  sheet.y += 8;
}

type SetRow =
  | { readonly kind: 'group'; readonly lines: readonly string[]; readonly height: number }
  | {
      readonly kind: 'cells';
      readonly cells: readonly ReportCell[];
      readonly set: readonly (readonly SetLine[])[];
      readonly height: number;
    };

function layColumns(columns: readonly ReportColumn[]): readonly Column[] {
  const whole = columns.reduce((sum, { share }) => sum + share, 0);
  const free = textWidth - gutter * (columns.length - 1);
  let x: number = page.left;
  return columns.map((column) => {
    const width = (free * column.share) / whole;
    const laid = { ...column, x, width };
    x += width + gutter;
    return laid;
  });
}

function setRow(sheet: Sheet, row: ReportRow, columns: readonly Column[]): SetRow {
  if (row.kind === 'group') {
    const lines = sheet.lines(row.text, groupType, textWidth);
    return { kind: 'group', lines, height: lines.length * groupType.leading + padding * 2 + 3 };
  }
  const set = columns.map((column, index) => setCell(sheet, row.cells[index], column.width));
  const heights = set.map((lines, index) => {
    const drawing = row.cells[index]?.drawing;
    const text = lines.reduce((sum, { type }) => sum + type.leading, 0);
    return Math.max(text, drawing === undefined ? 0 : sceneHeight(drawing, columns[index]?.width ?? 0));
  });
  return { kind: 'cells', cells: row.cells, set, height: Math.max(...heights, 0) + padding * 2 };
}

function setCell(sheet: Sheet, cell: ReportCell | undefined, width: number): readonly SetLine[] {
  const room = width - (cell?.mark === undefined ? 0 : markWidth);
  return (cell?.lines ?? []).flatMap(({ text, style }) => {
    const type = cellTypes[style];
    return sheet.lines(text, type, room).map((line) => ({ text: line, type }));
  });
}

/** A group's title stays with the first of its rows. */
function heightWithNext(rows: readonly SetRow[], index: number): number {
  const row = rows[index];
  if (row === undefined) return 0;
  return row.height + (row.kind === 'group' ? heightWithNext(rows, index + 1) : 0);
}

function headHeight(sheet: Sheet, columns: readonly Column[]): number {
  const most = Math.max(
    ...columns.map(({ heading, width }) => sheet.lines(heading, columnHeading, width).length),
  );
  return most * columnHeading.leading + padding * 2;
}

/** The head: real header cells the first time, decoration when it is repeated on a new page. */
function drawHead(sheet: Sheet, columns: readonly Column[], table: Struct | null): void {
  const height = headHeight(sheet, columns);
  const row = table === null ? null : sheet.pdf.struct('TR');
  if (row !== null) table?.add(row);
  for (const column of columns) {
    const lines = sheet.lines(column.heading, columnHeading, column.width);
    const top = sheet.y + height - padding - lines.length * columnHeading.leading;
    const draw = (): void => {
      lines.forEach((line, index) =>
        writeIn(sheet, line, column, top + index * columnHeading.leading, columnHeading, 0),
      );
    };
    if (row === null) sheet.decorate(draw);
    else {
      const options: Options = { scope: 'Column' };
      row.add(sheet.pdf.struct('TH', options, draw));
    }
  }
  row?.end();
  sheet.y += height;
  sheet.decorate(() => rule(sheet.pdf, page.left, sheet.y, textWidth, colours.ink, 0.7));
}

function drawGroup(
  sheet: Sheet,
  { lines, height }: Extract<SetRow, { kind: 'group' }>,
  table: Struct,
  columns: number,
): void {
  const row = sheet.pdf.struct('TR');
  table.add(row);
  const top = sheet.y + padding + 3;
  const options: Options = { scope: 'Row' };
  const heading = sheet.pdf.struct('TH', options, () => {
    lines.forEach((line, index) => sheet.write(line, page.left, top + index * groupType.leading, groupType));
  });
  row.add(heading);
  // Cells that a reader of the structure counts: the title stands for the whole row.
  for (let index = 1; index < columns; index += 1) row.add(sheet.pdf.struct('TD', {}, () => undefined));
  row.end();
  sheet.y += height;
  sheet.decorate(() => rule(sheet.pdf, page.left, sheet.y, textWidth, colours.faint, 0.4));
}

function drawCells(
  sheet: Sheet,
  { cells, set, height }: Extract<SetRow, { kind: 'cells' }>,
  columns: readonly Column[],
  table: Struct,
  rowHeading: number,
): void {
  const row = sheet.pdf.struct('TR');
  table.add(row);
  const top = sheet.y;
  sheet.decorate(() => {
    cells.forEach(({ mark, drawing }, index) => {
      const column = columns[index];
      if (column === undefined) return;
      if (mark !== undefined) drawScene(sheet, mark, column.x, top + padding + 1.4, 7.4);
      if (drawing !== undefined) drawScene(sheet, drawing, column.x, top + padding, column.width);
    });
  });
  const elements = columns.map((_, index) => {
    const options: Options = index === rowHeading ? { scope: 'Row' } : {};
    const element = sheet.pdf.struct(index === rowHeading ? 'TH' : 'TD', options);
    row.add(element);
    return element;
  });
  let from = columns.map(() => 0);
  let isWhole = false;
  while (!isWhole) {
    const start = sheet.y;
    const next = columns.map((column, index) =>
      drawLines(
        sheet,
        set[index] ?? [],
        from[index] ?? 0,
        column,
        cells[index]?.mark === undefined ? 0 : markWidth,
        elements[index],
      ),
    );
    isWhole = next.every((count, index) => count >= (set[index]?.length ?? 0));
    from = [...next];
    sheet.y = isWhole ? start + Math.min(height, sheet.room()) : start;
    if (!isWhole) sheet.need(pageRoom);
  }
  for (const element of elements) element.end();
  row.end();
  sheet.decorate(() => rule(sheet.pdf, page.left, sheet.y, textWidth, colours.wash, 0.6));
}

/** As many lines of a cell as this page has room for; gives the index of the first one left over. */
function drawLines(
  sheet: Sheet,
  lines: readonly SetLine[],
  from: number,
  column: Column,
  indent: number,
  element: Struct | undefined,
): number {
  let y = sheet.y + padding;
  let index = from;
  const fitting: { readonly line: SetLine; readonly y: number }[] = [];
  for (; index < lines.length; index += 1) {
    const line = lines[index];
    if (line === undefined || y + line.type.leading > sheet.y + sheet.room() + padding) break;
    fitting.push({ line, y });
    y += line.type.leading;
  }
  element?.add(() => {
    for (const each of fitting) writeIn(sheet, each.line.text, column, each.y, each.line.type, indent);
  });
  return index;
}

function writeIn(sheet: Sheet, text: string, column: Column, y: number, type: Type, indent: number): void {
  if (column.align === 'right') sheet.write(text, column.x + column.width, y, type, { to: 'right' });
  else sheet.write(text, column.x + indent, y, type);
}
