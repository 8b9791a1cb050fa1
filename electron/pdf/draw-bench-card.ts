import { pinDegrees } from '../../shared-core/valves/bases.ts';
import type {
  BenchCard,
  CardGroup,
  CardReading,
  CardSocket,
  CardStore,
} from '../../shared-core/report/bench-card.ts';
import { drawPaper } from './draw-paper.ts';
import type { DrawnPaper } from './draw-paper.ts';
import { colours } from './faces.ts';
import type { Face, Type } from './faces.ts';
import { page, rule } from './sheet.ts';
import type { Struct } from './pdf-document.ts';
import type { Sheet } from './sheet.ts';

/** The card uses more of the paper than a report: it goes into no binder. */
const left = 30;
const wide = page.width - 2 * left;
const top = 28;
const bottom = page.height - 26;
const between = 18;
const columnWidth = (wide - between) / 2;
/** Room for a figure by hand, in points: 22 mm. */
const blankWidth = 62;
const socketsToRow = 4;

/** Sizes of the card, in points, before it is made to fit its page. */
const sizes = { title: 11, text: 7, quiet: 5.9, reading: 19, group: 15, store: 17, socket: 62 };
/** How far the card grows where there is room, and shrinks where there is little; smaller could not be read. */
const scales: readonly number[] = Array.from({ length: 41 }, (_, index) => 1.4 - index * 0.02);

interface Card {
  readonly sheet: Sheet;
  readonly scale: number;
  readonly root: Struct;
}

/** The bench card as a PDF of one page, as large as its readings let it be. */
export function drawBenchCard(card: BenchCard): Promise<DrawnPaper> {
  const { title, maker, recordedAt: at, head } = card;
  return drawPaper({ title, maker, subject: head[0] ?? title, at }, (sheet, root) => {
    const room = bottom - top - 58;
    const scale = scales.find((each) => heightOf(card, each) <= room) ?? scales[scales.length - 1] ?? 1;
    const drawn: Card = { sheet, scale, root };
    drawHead(drawn, card);
    drawReadings(drawn, card.groups);
    drawStores(drawn, card);
    drawSockets(drawn, card.sockets);
  });
}

function heightOf({ groups, stores, sockets }: BenchCard, scale: number): number {
  const rows = Math.ceil(sockets.length / socketsToRow);
  const rest = stores.length * sizes.store + 40 + rows * sizes.socket + 16;
  return Math.max(...splitColumns(groups).map((column) => columnHeight(column))) * scale + rest * scale;
}

function columnHeight(groups: readonly CardGroup[]): number {
  return groups.reduce((sum, { readings }) => sum + sizes.group + readings.length * sizes.reading, 0);
}

/** Two columns of the same height, as near as may be; a group that is divided says so in its second half. */
function splitColumns(groups: readonly CardGroup[]): readonly [readonly CardGroup[], readonly CardGroup[]] {
  const half = columnHeight(groups) / 2;
  const first: CardGroup[] = [];
  const second: CardGroup[] = [];
  let height = 0;
  for (const { title, readings } of groups) {
    const fits = Math.ceil(Math.max(0, half - height - sizes.group) / sizes.reading);
    // One reading alone on either side of the cut looks lost.
    const count = fits < 2 ? 0 : readings.length - fits < 2 ? readings.length : fits;
    const [here, there] = second.length > 0 ? [0, 0] : [count, count];
    if (here > 0) first.push({ title, readings: readings.slice(0, here) });
    const rest = readings.slice(there);
    if (rest.length > 0) second.push({ title: here > 0 ? `${title}, continued` : title, readings: rest });
    height += sizes.group + readings.length * sizes.reading;
  }
  return [first, second];
}

function type(scale: number, size: number, face: Face = 'plain', colour: string = colours.ink): Type {
  return { face, size: size * scale, leading: size * scale * 1.3, colour };
}

function drawHead({ sheet, root }: Card, { title, head }: BenchCard): void {
  const name = { ...type(1, 17, 'bold'), leading: 22 };
  root.add(sheet.pdf.struct('H1', {}, () => sheet.write(title, left, top, name)));
  const quiet = type(1, 6.6, 'plain', colours.quiet);
  const lines = sheet.pdf.struct('P', {}, () =>
    head.forEach((line, index) => sheet.write(line, left, top + 23 + index * 9, quiet)),
  );
  root.add(lines);
  const warning = sheet.pdf.struct('P', {}, () => {
    const right = left + wide;
    sheet.write('Plug out: measure every store before a hand goes in.', right, top + 1, type(1, 8, 'bold'), {
      to: 'right',
    });
    sheet.write(
      'Past a stop limit: pull the plug. Figures here are aids; the app judges.',
      right,
      top + 12,
      quiet,
      { to: 'right' },
    );
  });
  root.add(warning);
  sheet.decorate(() => rule(sheet.pdf, left, top + 52, wide, colours.ink, 1.2));
  sheet.y = top + 56;
}

function drawReadings(card: Card, groups: readonly CardGroup[]): void {
  const { sheet } = card;
  const start = sheet.y;
  const ends = splitColumns(groups).map((column, index) => {
    sheet.y = start;
    for (const group of column) drawGroup(card, group, left + index * (columnWidth + between));
    return sheet.y;
  });
  sheet.y = Math.max(...ends);
}

function drawGroup(card: Card, { title, readings }: CardGroup, x: number): void {
  const { sheet, scale, root } = card;
  const height = sizes.group * scale;
  const heading = type(scale, sizes.text, 'bold');
  const at = sheet.y + height - heading.leading - 1.5;
  const words = fitted(sheet, title, heading, columnWidth);
  root.add(sheet.pdf.struct('H2', {}, () => sheet.write(words, x, at, heading)));
  sheet.y += height;
  sheet.decorate(() => rule(sheet.pdf, x, sheet.y, columnWidth, colours.ink, 0.7));
  for (const reading of readings) drawReading(card, reading, x);
}

/** Number and name, below them where, the range and the stop limit; at the right the figure, or a blank for it. */
function drawReading({ sheet, scale, root }: Card, reading: CardReading, x: number): void {
  const { number, title, leads, range, stop, taken, unit } = reading;
  const y = sheet.y;
  const height = sizes.reading * scale;
  const [text, quiet, bold] = [
    type(scale, sizes.text),
    type(scale, sizes.quiet, 'plain', colours.quiet),
    type(scale, sizes.quiet, 'bold'),
  ];
  const indent = x + 15 * scale;
  const room = columnWidth - blankWidth * Math.min(scale, 1.1) - 15 * scale - 6;
  const first = y + 1.5 * scale;
  const second = first + text.leading * 0.98;
  const limit = stop === null ? '' : ` · ${stop}`;
  const words = fitted(sheet, `${leads} · ${range}${limit}`, quiet, room);
  const isWhole = words.endsWith(limit);
  root.add(
    sheet.pdf.struct('P', {}, () => {
      sheet.write(String(number), x + 11 * scale, first, type(scale, sizes.text, 'mono', colours.quiet), {
        to: 'right',
      });
      sheet.write(fitted(sheet, title, text, room), indent, first, text);
      // What cannot be left out is the limit: a long place gives way to it.
      const start = isWhole
        ? words.slice(0, words.length - limit.length)
        : fittedBefore(sheet, `${leads} · ${range}`, limit, quiet, room);
      sheet.write(start, indent, second, quiet);
      sheet.write(limit, indent + sheet.widthOf(start, quiet), second, { ...quiet, colour: bold.colour });
      if (taken !== null)
        sheet.write(
          taken,
          x + columnWidth,
          y + height / 2 - text.leading / 2,
          { ...text, face: 'mono-bold' },
          { to: 'right' },
        );
      else sheet.write(unit, x + columnWidth, y + height - quiet.leading - 1, quiet, { to: 'right' });
    }),
  );
  sheet.y = y + height;
  sheet.decorate(() => {
    rule(sheet.pdf, x, sheet.y, columnWidth, colours.faint, 0.35);
    if (taken === null)
      drawBlank(
        sheet,
        x + columnWidth - blankWidth * Math.min(scale, 1.1),
        y + 2,
        blankWidth * Math.min(scale, 1.1),
        height - 3.5,
      );
  });
}

function drawBlank(sheet: Sheet, x: number, y: number, width: number, height: number): void {
  sheet.pdf.lineWidth(0.5).undash().rect(x, y, width, height).stroke(colours.faint);
}

function drawStores(card: Card, { stores, safeWords }: BenchCard): void {
  const { sheet, scale, root } = card;
  if (stores.length === 0) return;
  sheet.y += 12 * scale;
  const heading = type(scale, sizes.text, 'bold');
  const words = `Stores: each across its own two ends, ${safeWords}, and again a minute or more later`;
  const y = sheet.y;
  root.add(sheet.pdf.struct('H2', {}, () => sheet.write(words, left, y, heading)));
  const quiet = type(scale, sizes.quiet, 'plain', colours.quiet);
  const blanks = ['first look, V', 'at', 'second look, V', 'at'];
  sheet.decorate(() =>
    blanks.forEach((name, index) => sheet.write(name, blankAt(index), y + 9 * scale, quiet)),
  );
  sheet.y += 19 * scale;
  for (const store of stores) drawStore(card, store);
}

const storeBlanks = 4 * 48;

function blankAt(index: number): number {
  return left + wide - storeBlanks + index * 48;
}

function drawStore({ sheet, scale, root }: Card, { part, title, leads, most, worth }: CardStore): void {
  const y = sheet.y;
  const height = sizes.store * scale;
  const [text, quiet] = [type(scale, sizes.text), type(scale, sizes.quiet, 'plain', colours.quiet)];
  const room = wide - storeBlanks - 44 * scale - 8;
  root.add(
    sheet.pdf.struct('P', {}, () => {
      sheet.write(part, left, y + 1.5 * scale, { ...text, face: 'bold' });
      sheet.write(
        fitted(sheet, `${leads}, up to ${most}`, text, room),
        left + 40 * scale,
        y + 1 * scale,
        text,
      );
      const more = [title, `measuring is worth it ${worth}`].filter((each) => each !== '').join(' · ');
      sheet.write(fitted(sheet, more, quiet, room), left + 40 * scale, y + 9 * scale, quiet);
    }),
  );
  sheet.y = y + height;
  sheet.decorate(() => {
    for (let index = 0; index < 4; index += 1) drawBlank(sheet, blankAt(index), y + 1.5, 44, height - 3);
  });
}

function drawSockets(card: Card, sockets: readonly CardSocket[]): void {
  const { sheet, scale } = card;
  if (sockets.length === 0) return;
  sheet.y += 10 * scale;
  const width = wide / socketsToRow;
  for (let start = 0; start < sockets.length; start += socketsToRow) {
    const y = sheet.y;
    sockets
      .slice(start, start + socketsToRow)
      .forEach((socket, index) => drawSocket(card, socket, left + index * width, y));
    sheet.y = y + sizes.socket * scale;
  }
}

/** A socket from below, turned as it is mounted, and its pins in words. */
function drawSocket({ sheet, scale, root }: Card, socket: CardSocket, x: number, y: number): void {
  const { part, type: name, base, gapFaces, pins } = socket;
  const radius = 17 * scale;
  const centre = { x: x + radius + 6 * scale, y: y + radius + 14 * scale };
  const [text, quiet] = [type(scale, sizes.text, 'bold'), type(scale, 5.2)];
  const at = (degrees: number, away: number): readonly [number, number] => {
    const turn = (degrees * Math.PI) / 180;
    return [centre.x + away * Math.sin(turn), centre.y - away * Math.cos(turn)];
  };
  sheet.decorate(() => {
    sheet.pdf.lineWidth(0.7).undash().circle(centre.x, centre.y, radius).stroke(colours.ink);
    if (base.mark !== 'thick pins') {
      const [tip, other] = [at(gapFaces, radius * 0.62), at(gapFaces, radius)];
      sheet.pdf
        .lineWidth(1.6)
        .moveTo(...tip)
        .lineTo(...other)
        .stroke(colours.ink);
    }
  });
  root.add(
    sheet.pdf.struct('P', {}, () => {
      sheet.write(`${part} ${name}, from below`, x, y, text);
      pins.forEach((words, index) => {
        const degrees = gapFaces + pinDegrees(base, index + 1);
        const [px, py] = at(degrees, radius * 0.72);
        const isThick = base.thickPins.includes(index + 1);
        const face = isThick ? ('mono-bold' as const) : ('mono' as const);
        sheet.write(String(index + 1), px, py - quiet.leading / 2, { ...quiet, face }, { to: 'middle' });
        sheet.write(words, x + 2 * radius + 16 * scale, y + 10 * scale + index * quiet.leading * 0.82, quiet);
      });
    }),
  );
}

/** Text cut with an ellipsis where it is too wide. */
function fitted(sheet: Sheet, text: string, face: Type, width: number): string {
  if (sheet.widthOf(text, face) <= width) return text;
  let length = text.length;
  while (length > 1 && sheet.widthOf(`${text.slice(0, length)}…`, face) > width) length -= 1;
  return `${text.slice(0, length).trimEnd()}…`;
}

function fittedBefore(sheet: Sheet, text: string, after: string, face: Type, width: number): string {
  return fitted(sheet, text, face, width - sheet.widthOf(after, face));
}
