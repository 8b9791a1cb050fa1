import { cellTypes, colours, faceFile, faces } from './faces.ts';
import type { Face, Type } from './faces.ts';
import type { RecordedPdf } from './page-recorder.ts';
import type { Pdf } from './pdf-document.ts';
import { printable } from './printable.ts';

/** A4 with room for a binder's holes, in points. */
export const page = { width: 595.28, height: 841.89, left: 62, right: 46, top: 62, bottom: 58 } as const;
export const textWidth = page.width - page.left - page.right;
const foot = page.height - page.bottom;

/** The part of a font that says whether it can draw a character. */
interface GlyphSource {
  readonly font: { readonly hasGlyphForCodePoint: (codePoint: number) => boolean };
}

/** The paper: where the next thing goes, how wide text is, and what the fonts could not draw. */
export interface Sheet {
  readonly pdf: Pdf;
  /** Where the next thing is drawn, from the top, in points. */
  y: number;
  /** Room left on this page, in points. */
  readonly room: () => number;
  /** Starts a new page unless so much room is left; true when it did. */
  readonly need: (height: number) => boolean;
  /** Text broken into lines of a width, made fit for the font. */
  readonly lines: (text: string, type: Type, width: number) => readonly string[];
  /** One line of text; `y` is the top of its line. */
  readonly write: (text: string, x: number, y: number, type: Type, align?: Align) => void;
  readonly widthOf: (text: string, type: Type) => number;
  /** Draws something that is not content: rules, bands that repeat the words beside them. */
  readonly decorate: (draw: () => void) => void;
  /** Characters that no font has. */
  readonly missing: Set<string>;
  /** Draws a photo as it is stored, in a place of its own shape. */
  readonly photo: (photo: DrawnPhoto, place: PhotoPlace) => void;
}

/** A photo with its file's name and what it shows. */
export interface DrawnPhoto {
  readonly file: string;
  readonly title: string;
  readonly picture: Picture;
}

/** A picture that pdfkit has opened; its types leave that out. */
export interface Picture {
  readonly width: number;
  readonly height: number;
  /** As EXIF says it, 1 to 8: pdfkit turns the picture by it. */
  orientation?: number;
}

interface PhotoPlace {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** How a line stands to its `x`, and how wide its place is. */
export interface Align {
  readonly to: 'left' | 'right' | 'middle';
}

/** Full height of the place for content, in points. */
export const pageRoom = foot - page.top;

/**
 * A sheet over a document that was made without a first page.
 *
 * @param recorded A pdfkit document with no margins of its own: every position here is ours.
 */
export function makeSheet({ pdf, notePhoto }: Pick<RecordedPdf, 'pdf' | 'notePhoto'>): Sheet {
  for (const face of faces) pdf.registerFont(face, faceFile(face));
  const missing = new Set<string>();
  const widths = new Map<string, number>();
  const setType = (type: Type): void => {
    pdf.font(type.face).fontSize(type.size);
  };
  const hasGlyph = glyphCheck(pdf);
  const clean = (text: string, face: Face): string => {
    const result = printable(text, (codePoint) => hasGlyph(face, codePoint));
    for (const character of result.missing) missing.add(character);
    return result.text;
  };
  const widthOf = (text: string, type: Type): number => {
    const key = `${type.face} ${type.size} ${text}`;
    const known = widths.get(key);
    if (known !== undefined) return known;
    setType(type);
    const width = pdf.widthOfString(text);
    widths.set(key, width);
    return width;
  };
  pdf.addPage();
  const sheet: Sheet = {
    pdf,
    y: page.top,
    missing,
    widthOf,
    room: () => foot - sheet.y,
    need: (height) => {
      if (sheet.room() >= height || sheet.y <= page.top) return false;
      pdf.addPage();
      sheet.y = page.top;
      return true;
    },
    lines: (text, type, width) => breakLines(clean(text, type.face), width, (part) => widthOf(part, type)),
    write: (text, x, y, type, align = { to: 'left' }) => {
      const shown = clean(text, type.face);
      if (shown === '') return;
      const shift = { left: 0, middle: 0.5, right: 1 }[align.to] * widthOf(shown, type);
      setType(type);
      // DejaVu's lower edge lies 0.236 em below the line of writing; this centres the line in its leading.
      pdf
        .fillColor(type.colour)
        .text(shown, x - shift, y + (type.leading - type.size * 1.164) / 2, { lineBreak: false });
    },
    photo: ({ file, title, picture }, { x, y, width, height }) => {
      pdf.image(picture as unknown as string, x, y, { width, height });
      notePhoto({ file, title, x, y, width, height });
    },
    decorate: (draw) => {
      pdf.markContent('Artifact', { type: 'Layout' });
      pdf.save();
      draw();
      pdf.restore();
      pdf.endMarkedContent();
    },
  };
  return sheet;
}

function glyphCheck(pdf: Pdf): (face: Face, codePoint: number) => boolean {
  const fonts = new Map<Face, GlyphSource['font']>();
  for (const face of faces) {
    pdf.font(face);
    // pdfkit keeps the font here; its types do not say so.
    const { _font: own } = pdf as unknown as { readonly _font: GlyphSource };
    fonts.set(face, own.font);
  }
  return (face, codePoint) => fonts.get(face)?.hasGlyphForCodePoint(codePoint) ?? false;
}

/** Greedy lines at spaces; a word wider than the line (a hash, an address) is cut where the line ends. */
export function breakLines(
  text: string,
  width: number,
  widthOf: (part: string) => number,
): readonly string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/ +/).filter((each) => each !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (widthOf(longer) <= width) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = word;
    while (widthOf(line) > width && line.length > 1) {
      const fitting = fittingLength(line, width, widthOf);
      lines.push(line.slice(0, fitting));
      line = line.slice(fitting);
    }
  }
  return line === '' ? lines : [...lines, line];
}

function fittingLength(word: string, width: number, widthOf: (part: string) => number): number {
  let length = 1;
  while (length < word.length && widthOf(word.slice(0, length + 1)) <= width) length += 1;
  return length;
}

/** A horizontal hairline; call it inside `decorate`. */
export function rule(
  pdf: Pdf,
  x: number,
  y: number,
  width: number,
  colour: string = colours.ink,
  weight = 0.5,
): void {
  pdf
    .lineWidth(weight)
    .undash()
    .strokeColor(colour)
    .moveTo(x, y)
    .lineTo(x + width, y)
    .stroke();
}

/** Type of a table's heading. */
export const columnHeading: Type = { ...cellTypes.quiet, face: 'bold', size: 6.6, leading: 9 };
