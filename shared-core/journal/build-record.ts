import type { BuildJudgement } from '../bands/judge-build.ts';
import type { Measure, Place } from '../kit/kit.ts';
import type { SafetyFacts } from '../safety/facts.ts';
import { canonicalJson } from './canonical-json.ts';
import type { BuildState } from './build-state.ts';
import type { JournalEntry, JournalHeader, Sha256 } from './journal-entry.ts';

/** What a report says about the kit, so that it never needs the kit itself. */
export interface RecordKit {
  readonly id: string;
  readonly name: string;
  readonly maker: string;
  readonly revision: string;
  readonly kitHash: string;
  readonly safeVolts: number;
  readonly conditions: readonly { readonly id: string; readonly title: string }[];
  readonly chapters: readonly { readonly id: string; readonly title: string }[];
  readonly steps: readonly { readonly id: string; readonly title: string; readonly chapter: string }[];
  readonly readings: readonly RecordReading[];
  /** Part to its title, for valves, fuses and stores. */
  readonly parts: Readonly<Record<string, string>>;
}

export interface RecordReading {
  readonly id: string;
  readonly title: string;
  readonly at: Place;
  readonly against: Place;
  readonly measure: Measure;
  readonly unit: 'V' | 'Ω' | '';
  readonly in: string;
}

/** A photo that the builder chose to send. */
export interface RecordPhoto {
  readonly file: string;
  readonly sha256: string;
  /** The picture itself, as base64. */
  readonly base64: string;
}

/** What a builder asks the maker, with the record so far. */
export interface RecordQuestion {
  /** The step or reading it is about; null for the build as a whole. */
  readonly about: string | null;
  readonly text: string;
  /** Files of the photos that belong to it; each is among the record's photos. */
  readonly photos: readonly string[];
}

/** The file a builder sends back. Members that this version does not know are kept. */
export interface BuildRecord {
  readonly format: 'kitwright-record/1';
  /** Version of the app that wrote it. */
  readonly app: string;
  readonly kit: RecordKit;
  readonly header: JournalHeader;
  readonly entries: readonly JournalEntry[];
  /** The fold of the entries, with each band and verdict as shown at the time. */
  readonly build: BuildState;
  /** What the rules knew at the end, with the drain curves. */
  readonly facts: SafetyFacts;
  readonly photos: readonly RecordPhoto[];
  /** All readings taken together; left out where it was not computed. */
  readonly together?: BuildJudgement;
  /** Left out where nothing is asked. */
  readonly question?: RecordQuestion;
  /** SHA-256 of the RFC 8785 form of the record without this member. */
  readonly seal: string;
}

/** Everything that a record is made of. */
export type RecordContent = Omit<BuildRecord, 'format' | 'seal'>;

/** A record; null when something in it has no RFC 8785 form, which would be our own bug. */
export function makeRecord(content: RecordContent, sha256: Sha256): BuildRecord | null {
  const open = { format: 'kitwright-record/1' as const, ...content };
  const form = canonicalJson(open);
  return form === null ? null : { ...open, seal: sha256(form) };
}

/** A record as text for its file, indented so that a person can read it. */
export function recordText(record: BuildRecord): string {
  return `${JSON.stringify(record, null, 1)}\n`;
}
