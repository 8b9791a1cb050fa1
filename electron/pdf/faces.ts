import { createRequire } from 'node:module';
import type { CellLine } from '../../shared-core/report/report-document.ts';

/** The faces of the report. All are embedded, and all hold Ω µ ± ≤ − and Cyrillic. */
export type Face = 'plain' | 'bold' | 'mono' | 'mono-bold';

const files: Readonly<Record<Face, string>> = {
  plain: 'DejaVuSans.ttf',
  bold: 'DejaVuSans-Bold.ttf',
  mono: 'DejaVuSansMono.ttf',
  'mono-bold': 'DejaVuSansMono-Bold.ttf',
};

/** Path of a face's file in the package `dejavu-fonts-ttf`. */
export function faceFile(face: Face): string {
  return createRequire(import.meta.url).resolve(`dejavu-fonts-ttf/ttf/${files[face]}`);
}

/** All faces. */
export const faces = Object.keys(files) as readonly Face[];

/** How a run of text is set. */
export interface Type {
  readonly face: Face;
  /** In points. */
  readonly size: number;
  /** From one line to the next, in points. */
  readonly leading: number;
  readonly colour: string;
}

/** Ink on white paper; the safety colours of ISO 3864, dark enough to read as text. */
export const colours = {
  ink: '#1a1a18',
  quiet: '#5b5850',
  faint: '#a9a59b',
  wash: '#ebe8e1',
  paper: '#ffffff',
  danger: '#b5121b',
  warning: '#c25500',
  safe: '#146b3a',
} as const;

const plain = { face: 'plain', colour: colours.ink } as const;

/** The few sizes of type that the report uses. */
export const types = {
  name: { face: 'bold', size: 30, leading: 36, colour: colours.ink },
  heading: { face: 'bold', size: 12, leading: 16, colour: colours.ink },
  text: { ...plain, size: 8.8, leading: 12.8 },
  strong: { face: 'bold', size: 8.8, leading: 12.8, colour: colours.ink },
  quiet: { ...plain, size: 7.6, leading: 10.8, colour: colours.quiet },
  label: { ...plain, size: 7.6, leading: 12.8, colour: colours.quiet },
  mono: { face: 'mono', size: 8, leading: 12.8, colour: colours.ink },
  running: { ...plain, size: 7, leading: 9, colour: colours.quiet },
} as const satisfies Readonly<Record<string, Type>>;

/** The lines of a table's cell. */
export const cellTypes: Readonly<Record<CellLine['style'], Type>> = {
  plain: { ...plain, size: 7.8, leading: 10.2 },
  bold: { face: 'bold', size: 7.8, leading: 10.2, colour: colours.ink },
  mono: { face: 'mono', size: 7.2, leading: 10.2, colour: colours.ink },
  quiet: { ...plain, size: 6.4, leading: 8.6, colour: colours.quiet },
};
