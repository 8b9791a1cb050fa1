import type { BuildRecord } from '../journal/build-record.ts';
import type { Sha256 } from '../journal/journal-entry.ts';
import { readRecord } from '../journal/read-record.ts';
import type { KitProblem } from '../problem/problem.ts';

/** Why a record is not counted. */
export type AsideReason = 'damaged' | 'cut' | 'edited' | 'foreign' | 'practice' | 'duplicate';

/** A record that is not counted, by the name of its file. */
export interface AsideRecord {
  readonly file: string;
  readonly reason: AsideReason;
  /** One sentence for the designer. */
  readonly why: string;
}

/** What a file turned out to be. */
export type Inspected =
  | { readonly kind: 'sound'; readonly record: BuildRecord; readonly isSimulated: boolean }
  | { readonly kind: 'aside'; readonly reason: AsideReason; readonly why: string };

/**
 * Looks at the text of one file: a sound record, or why it is none.
 *
 * The chain of its events and its seal are verified; whoever computed both anew is not detected. Readings of a
 * record that was touched are no evidence, so it is set aside whole.
 */
export function inspectRecord(text: string, sha256: Sha256): Inspected {
  const read = readRecord(text, sha256);
  if (!read.ok) return unreadable(read.problems[0], text);
  const record = read.value;
  const changed = read.warnings.find(({ code }) => code === 'record/edited');
  if (changed) {
    const isShort = record.entries.length < record.build.seq;
    const why = isShort
      ? `${record.build.seq - record.entries.length} of its ${record.build.seq} events are missing`
      : changed.message;
    return aside(isShort ? 'cut' : 'edited', why);
  }
  const { header, build, kit } = record;
  if (header.build !== build.build || header.kit !== build.kit || build.kit !== kit.id) {
    return aside('edited', 'Its parts speak of different builds');
  }
  if (build.refusedEntries.length > 0) {
    const where = build.refusedEntries.slice(0, 3).join(', ');
    return aside('edited', `Its journal has events that the safety rules refuse (${where})`);
  }
  if (header.made === undefined) return { kind: 'sound', record, isSimulated: false };
  if (header.made === 'simulated') return { kind: 'sound', record, isSimulated: true };
  return aside('foreign', `It is marked "${String(header.made)}", which this version does not know`);
}

function aside(reason: AsideReason, why: string): Inspected {
  return { kind: 'aside', reason, why };
}

function unreadable(problem: KitProblem, text: string): Inspected {
  const { code, message } = problem;
  if (code === 'record/other-format') return aside('foreign', message);
  if (code === 'record/practice') return aside('practice', message);
  // A record of ours that just stops was cut off on its way; anything else that is no JSON is damaged.
  const isOurs = text.slice(0, 200).includes('"kitwright-record/');
  if (code === 'record/not-json' && isOurs && !text.trimEnd().endsWith('}')) {
    return aside('cut', 'The file stops in the middle of the record');
  }
  const isOther = code === 'record/not-a-record' && !isOurs && !text.includes('"kitwright-record/');
  return aside(isOther ? 'foreign' : 'damaged', message);
}
