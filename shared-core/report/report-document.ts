import type { Scene } from '../drawing/scene.ts';

/**
 * A build report as data: what it says, in order, with its drawings. Plain JSON.
 *
 * Made from a record alone; the PDF and the screen only set it in type.
 */
export interface ReportDocument {
  /** "Heron, build report". */
  readonly title: string;
  readonly kitName: string;
  /** What paper it is, beside the kit's name; "Build report" where left out. */
  readonly paper?: string;
  readonly maker: string;
  /** Short line for the head of every page: kit, revision, builder. */
  readonly runningHead: string;
  /** Short line for the foot of every page. */
  readonly runningFoot: string;
  readonly titleBlock: readonly Fact[];
  /** Time of the record's last event, UTC ISO text: the report has no clock of its own. */
  readonly recordedAt: string;
  readonly sections: readonly ReportSection[];
}

/** A name and what stands beside it. */
export interface Fact {
  readonly name: string;
  readonly text: string;
  /** Set in figures of one width: hashes and numbers. */
  readonly mono?: boolean;
  /** Something that the reader must not overlook: NOT tested, declared, changed. */
  readonly strong?: boolean;
}

export interface ReportSection {
  readonly id: string;
  readonly heading: string;
  readonly blocks: readonly ReportBlock[];
}

export type ReportBlock =
  | { readonly kind: 'paragraph'; readonly text: string; readonly quiet?: boolean }
  /** Set apart by a rule beside it; `word` is its signal word. */
  | { readonly kind: 'notice'; readonly word: string; readonly paragraphs: readonly string[] }
  | { readonly kind: 'facts'; readonly facts: readonly Fact[] }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | ReportTable
  | ReportFigures
  | { readonly kind: 'photos'; readonly photos: readonly ReportPhoto[] }
  | { readonly kind: 'story'; readonly lines: readonly ReportStoryLine[] }
  | { readonly kind: 'signature'; readonly text: string };

export interface ReportTable {
  readonly kind: 'table';
  /** What the table holds, for those who cannot see it. */
  readonly title: string;
  readonly columns: readonly ReportColumn[];
  readonly rows: readonly ReportRow[];
  /** Index of the column that names the row. */
  readonly rowHeading: number;
}

export interface ReportColumn {
  readonly heading: string;
  /** Share of the width, relative to the other columns. */
  readonly share: number;
  readonly align?: 'left' | 'right';
}

export type ReportRow =
  | { readonly kind: 'group'; readonly text: string }
  | { readonly kind: 'cells'; readonly cells: readonly ReportCell[] };

export interface ReportCell {
  readonly lines: readonly CellLine[];
  /** A shape before the first line, or a drawing that fills the cell; it repeats what the row says in words. */
  readonly mark?: Scene;
  readonly drawing?: Scene;
}

export interface CellLine {
  readonly text: string;
  readonly style: 'plain' | 'bold' | 'mono' | 'quiet';
}

/** Drawings side by side, `columns` to a row. */
export interface ReportFigures {
  readonly kind: 'figures';
  readonly columns: 1 | 2;
  readonly figures: readonly { readonly scene: Scene; readonly caption: string }[];
}

/** A photo, two of them to a row. */
export interface ReportPhoto {
  readonly file: string;
  /** The JPEG or PNG itself. */
  readonly base64: string;
  /** What it shows, for those who cannot see it. */
  readonly title: string;
  readonly caption: string;
}

/** One sentence of the told story. */
export interface ReportStoryLine {
  /** "7 Mar 2026" on the first line of a day, else empty. */
  readonly day: string;
  readonly time: string;
  readonly energy: 'dead' | 'live' | 'draining';
  readonly text: string;
  readonly strong: boolean;
}
