/**
 * One page as it is printed, as data: what the PDF draws, in its order. Lengths are in points (1/72 inch); x runs
 * right, y runs down.
 */
export interface PaperPage {
  readonly width: number;
  readonly height: number;
  readonly items: readonly PaperItem[];
}

/** The faces that papers are set in. */
export type PaperFace = 'plain' | 'bold' | 'mono' | 'mono-bold';

export type PaperItem =
  | {
      readonly kind: 'text';
      readonly x: number;
      /** Of the line that the letters stand on. */
      readonly y: number;
      readonly text: string;
      /** Width of the text as printed, so that another renderer sets it the same. */
      readonly width: number;
      readonly size: number;
      readonly face: PaperFace;
      readonly colour: string;
    }
  | {
      readonly kind: 'path';
      readonly d: string;
      readonly fill: string | null;
      readonly stroke: string | null;
      readonly weight: number;
      /** Lengths of dash and space; null for a whole line. */
      readonly dash: readonly [number, number] | null;
      /** Moved by x and y, then scaled; null for as it is. */
      readonly shift: { readonly x: number; readonly y: number; readonly scale: number } | null;
    }
  | {
      readonly kind: 'photo';
      /** Name of its file: the picture itself comes by its own way. */
      readonly file: string;
      /** What it shows, for those who cannot see it. */
      readonly title: string;
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
    };
