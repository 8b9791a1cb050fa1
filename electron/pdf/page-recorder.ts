import type { PaperFace, PaperItem, PaperPage } from '../../shared-core/report/paper-page.ts';
import type { Pdf } from './pdf-document.ts';

/** A document that notes what is drawn on it, page by page. */
export interface RecordedPdf {
  /** Draw on this one: it hands everything on to the document that it was made from. */
  readonly pdf: Pdf;
  readonly pages: () => readonly PaperPage[];
  /** Notes a photo that was drawn. */
  readonly notePhoto: (photo: Omit<Extract<PaperItem, { kind: 'photo' }>, 'kind'>) => void;
}

/** From the top of a line to where its letters stand, in parts of the type's size: DejaVu's own figure. */
const ascent = 0.928;

type Shift = { readonly x: number; readonly y: number; readonly scale: number };

/** Everything of the drawing that holds until it is changed. */
interface Pen {
  fill: string;
  stroke: string;
  weight: number;
  dash: readonly [number, number] | null;
  shift: Shift | null;
}

type Draw = (...given: never[]) => void;

/**
 * Notes texts, lines and areas while they are drawn, so that a screen can show the very pages of the PDF.
 *
 * Knows those of pdfkit's ways to draw that this folder uses, and no others.
 */
export function recordPages(document: Pdf): RecordedPdf {
  const pages: PaperItem[][] = [];
  let page: PaperItem[] = [];
  let pen: Pen = { fill: '#000000', stroke: '#000000', weight: 1, dash: null, shift: null };
  const saved: Pen[] = [];
  let path = '';
  let face: PaperFace = 'plain';
  let size = 1;
  const noteArea = (fill: string | null, stroke: string | null): void => {
    if (path !== '') {
      const { weight, dash, shift } = pen;
      page.push({ kind: 'path', d: path, fill, stroke, weight, dash, shift });
    }
    path = '';
  };
  const heard: Readonly<Record<string, Draw>> = {
    addPage: () => {
      page = [];
      pages.push(page);
    },
    switchToPage: (index: number) => {
      page = pages[index] ?? [];
    },
    save: () => saved.push({ ...pen }),
    restore: () => {
      pen = saved.pop() ?? pen;
    },
    translate: (x: number, y: number) => {
      pen.shift = { x, y, scale: 1 };
    },
    scale: (scale: number) => {
      pen.shift = { x: pen.shift?.x ?? 0, y: pen.shift?.y ?? 0, scale };
    },
    lineWidth: (weight: number) => {
      pen.weight = weight;
    },
    dash: (length: number, { space = length }: { readonly space?: number }) => {
      pen.dash = [length, space];
    },
    undash: () => {
      pen.dash = null;
    },
    fillColor: (colour: string) => {
      pen.fill = colour;
    },
    strokeColor: (colour: string) => {
      pen.stroke = colour;
    },
    path: (d: string) => {
      path += d;
    },
    moveTo: (x: number, y: number) => {
      path += `M${short(x)} ${short(y)}`;
    },
    lineTo: (x: number, y: number) => {
      path += `L${short(x)} ${short(y)}`;
    },
    rect: (x: number, y: number, width: number, height: number) => {
      path += `M${short(x)} ${short(y)}h${short(width)}v${short(height)}h${short(-width)}Z`;
    },
    circle: (x: number, y: number, radius: number) => {
      const arc = `a${short(radius)} ${short(radius)} 0 1 1 `;
      path += `M${short(x - radius)} ${short(y)}${arc}${short(2 * radius)} 0${arc}${short(-2 * radius)} 0Z`;
    },
    fill: (colour?: string) => noteArea(colour ?? pen.fill, null),
    stroke: (colour?: string) => noteArea(null, colour ?? pen.stroke),
    fillAndStroke: (fill?: string, stroke?: string) => noteArea(fill ?? pen.fill, stroke ?? pen.stroke),
    font: (name: PaperFace) => {
      face = name;
    },
    fontSize: (points: number) => {
      size = points;
    },
    text: (text: string, x: number, y: number) => {
      const width = short(document.widthOfString(text));
      const place = { x: short(x), y: short(y + ascent * size) };
      page.push({ kind: 'text', ...place, text, width, size, face, colour: pen.fill });
    },
  };
  const pdf: Pdf = new Proxy(document, {
    get: (target, name) => {
      const member: unknown = Reflect.get(target, name, target);
      if (typeof member !== 'function') return member;
      return (...given: unknown[]): unknown => {
        heard[String(name)]?.(...(given as never[]));
        const answer: unknown = Reflect.apply(member, target, given);
        return answer === target ? pdf : answer;
      };
    },
  });
  return {
    pdf,
    pages: () =>
      pages.map((items) => ({
        width: short(document.page.width),
        height: short(document.page.height),
        items,
      })),
    notePhoto: (photo) => page.push({ kind: 'photo', ...photo }),
  };
}

/** A length to a hundredth of a point: finer than any printer. */
function short(value: number): number {
  return Math.round(value * 100) / 100;
}
