/**
 * A line drawing as data: the screen turns it into SVG, the report into PDF paths.
 *
 * Lengths are in drawing units; x runs right, y runs down. Paths use only `M L H V C S A Z` with
 * finite figures, because the PDF library draws other commands wrongly.
 */
export interface Scene {
  readonly width: number;
  readonly height: number;
  /** What the drawing shows, for those who cannot see it. */
  readonly title: string;
  readonly items: readonly SceneItem[];
}

/** Ink on paper; the safety colours appear only where something is dangerous or proven safe. */
export type Ink = 'ink' | 'faint' | 'paper' | 'wash' | 'danger' | 'warning' | 'safe';

export type Weight = 'hair' | 'line' | 'bold';

export type SceneItem =
  | {
      readonly kind: 'path';
      readonly d: string;
      readonly ink: Ink | null;
      readonly fill: Ink | null;
      readonly weight: Weight;
      readonly dashed?: boolean;
    }
  | {
      readonly kind: 'text';
      readonly x: number;
      readonly y: number;
      readonly text: string;
      /** Height of the type, in drawing units. */
      readonly size: number;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly ink: Ink;
      readonly bold?: boolean;
      /** Figures in columns. */
      readonly mono?: boolean;
    };

/** Rounds a length to a hundredth, so that equal input gives equal bytes everywhere. */
export function length(value: number): string {
  if (!Number.isFinite(value)) throw new Error('a drawing needs finite lengths');
  return String(Math.round(value * 100) / 100 + 0);
}

/** A straight line. */
export function line(
  x1: number,
  y1: number,
  x2: number,
  y2: number,
  ink: Ink = 'ink',
  weight: Weight = 'line',
  dashed = false,
): SceneItem {
  const d = `M${length(x1)} ${length(y1)}L${length(x2)} ${length(y2)}`;
  return { kind: 'path', d, ink, fill: null, weight, dashed };
}

/** A rectangle given by its left upper corner. */
export function rectangle(
  x: number,
  y: number,
  width: number,
  height: number,
  fill: Ink | null,
  ink: Ink | null = null,
  weight: Weight = 'line',
): SceneItem {
  const d = `M${length(x)} ${length(y)}H${length(x + width)}V${length(y + height)}H${length(x)}Z`;
  return { kind: 'path', d, ink, fill, weight };
}

/** A circle, as two arcs. */
export function circle(
  x: number,
  y: number,
  radius: number,
  fill: Ink | null,
  ink: Ink | null = 'ink',
  weight: Weight = 'line',
): SceneItem {
  const r = length(radius);
  const d =
    `M${length(x - radius)} ${length(y)}` +
    `A${r} ${r} 0 1 1 ${length(x + radius)} ${length(y)}` +
    `A${r} ${r} 0 1 1 ${length(x - radius)} ${length(y)}Z`;
  return { kind: 'path', d, ink, fill, weight };
}

/** A closed polygon. */
export function polygon(
  points: readonly (readonly [number, number])[],
  fill: Ink | null,
  ink: Ink | null = null,
): SceneItem {
  const d =
    points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${length(x)} ${length(y)}`).join('') + 'Z';
  return { kind: 'path', d, ink, fill, weight: 'line' };
}

/** A line of text. */
export function label(
  x: number,
  y: number,
  text: string,
  size: number,
  options: Partial<Pick<Extract<SceneItem, { kind: 'text' }>, 'anchor' | 'ink' | 'bold' | 'mono'>> = {},
): SceneItem {
  return { kind: 'text', x, y, text, size, anchor: 'middle', ink: 'ink', ...options };
}
