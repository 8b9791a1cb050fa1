import { fail, succeed, type KitProblem, type Result } from '../problem/problem.ts';
import type { BuildRecord } from './build-record.ts';
import { canonicalJson } from './canonical-json.ts';
import { chainStart, type JournalEntry, type JournalHeader, type Sha256 } from './journal-entry.ts';
import { chainFault, isJournalEntry } from './parse-journal.ts';
import { isRecordShape } from './record-shape.ts';
import { isObject } from './shape.ts';

/** Largest record that is read, in UTF-16 units: a few dozen photos. Our own figure. */
const largestText = 64 * 1024 * 1024;

/** Deepest nesting that is read. Our own figure; a record of ours has about ten. */
const deepestNesting = 40;

/**
 * A record from the text of its file.
 *
 * Edits and cuts that were made without care give a warning `record/edited`; the record is still read.
 * Whoever computes chain and seal anew is not detected.
 */
export function readRecord(text: string, sha256: Sha256): Result<BuildRecord> {
  if (text.length > largestText) {
    return fail(problem('record/too-large', `This file is larger than ${largestText} characters.`));
  }
  if (nestingOf(text) > deepestNesting) {
    return fail(problem('record/too-deep', `This file is nested deeper than ${deepestNesting}.`));
  }
  if (isPracticeFile(text)) return fail(practice);
  const value = parse(text);
  if (value === undefined) return fail(problem('record/not-json', 'This file is not JSON, or was cut off.'));
  const format = isObject(value) ? value['format'] : undefined;
  if (!isObject(value) || typeof format !== 'string' || !format.startsWith('kitwright-record/')) {
    return fail(problem('record/not-a-record', 'This file is not the record of a build.'));
  }
  if (format !== 'kitwright-record/1') {
    return fail({
      code: 'record/other-format',
      severity: 'error',
      message: `This record has the format ${format}; this version reads kitwright-record/1.`,
      hint: 'Open it with a newer version of the app.',
    });
  }
  if (!isRecordShape(value)) {
    return fail(problem('record/not-a-record', 'Parts of this record are missing or of the wrong kind.'));
  }
  const record = value as unknown as BuildRecord;
  if (record.header.format !== 'kitwright-journal/1') return fail(practice);
  const why = faultOf(record, value, sha256);
  return succeed(record, why === null ? [] : [edited(why)]);
}

const practice: KitProblem = {
  code: 'record/practice',
  severity: 'error',
  message: 'This is a practice power-up with simulated readings: it is no record of an amplifier.',
  hint: 'Choose a record that the app wrote of a build.',
};

/** A practice journal, or anything whose header says that it came from one. */
function isPracticeFile(text: string): boolean {
  return /"format"\s*:\s*"kitwright-practice\//.test(text.slice(0, headerLength));
}

/** Where a file says what it is, in UTF-16 units: its first lines. */
const headerLength = 4000;

/** Why a record is not as it was written; null when it is. */
function faultOf(
  record: BuildRecord,
  value: Readonly<Record<string, unknown>>,
  sha256: Sha256,
): string | null {
  const { seal, ...open } = value;
  const chain = chainFaultOf(record.header, record.entries, sha256);
  if (chain !== null) return chain;
  const form = canonicalJson(open);
  return form !== null && sha256(form) === seal ? null : 'its content does not match its seal';
}

function chainFaultOf(header: JournalHeader, entries: unknown, sha256: Sha256): string | null {
  if (!Array.isArray(entries)) return 'it has no events';
  let end = chainStart(header, sha256);
  for (const [index, entry] of (entries as readonly unknown[]).entries()) {
    if (!isJournalEntry(entry)) return `event ${index + 1} is not one that this version knows`;
    const why: string | null = chainFault(entry satisfies JournalEntry, end, sha256);
    if (why !== null) return `event ${index + 1}: ${why}`;
    end = { seq: entry.seq, hash: entry.hash };
  }
  return null;
}

function edited(why: string): KitProblem {
  return {
    code: 'record/edited',
    severity: 'warning',
    message: `This record was changed after it was written: ${why}.`,
    hint: 'Ask the builder for the record as the app wrote it.',
  };
}

function problem(code: KitProblem['code'], message: string): KitProblem {
  return { code, severity: 'error', message, hint: 'Choose a record that the app wrote.' };
}

/** Deepest nesting of brackets outside strings, without parsing. */
function nestingOf(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code === quote) index = endOfString(text, index);
    else if (code === openBrace || code === openBracket) {
      depth += 1;
      if (depth > deepest) deepest = depth;
    } else if (code === openBrace + 2 || code === openBracket + 2) depth -= 1;
  }
  return deepest;
}

const quote = 0x22;
const backslash = 0x5c;
/** Each is closed by the character two after it. */
const openBrace = 0x7b;
const openBracket = 0x5b;

/** Where the string ends that begins here; the text's end where it never does. */
function endOfString(text: string, start: number): number {
  let end = text.indexOf('"', start + 1);
  while (end !== -1) {
    let before = end - 1;
    while (text.charCodeAt(before) === backslash) before -= 1;
    // An odd number of backslashes before it: the quote belongs to the string.
    if ((end - before) % 2 === 1) return end;
    end = text.indexOf('"', end + 1);
  }
  return text.length;
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
}
