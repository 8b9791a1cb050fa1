import { fail, succeed, type KitProblem, type Result } from '../problem/problem.ts';
import { unfinishedLine, type JournalCut } from '../safety/events.ts';
import { isBuildEvent } from './event-shapes.ts';
import {
  chainStart,
  hashOf,
  type ChainEnd,
  type JournalEntry,
  type JournalHeader,
  type Sha256,
} from './journal-entry.ts';
import { count, isObject, number, object, text as isText } from './shape.ts';

/** A journal as far as its chain holds. */
export interface ParsedJournal {
  readonly header: JournalHeader;
  readonly entries: readonly JournalEntry[];
  readonly end: ChainEnd;
  /** What does not hold: an unfinished last line, or all from a break on. Empty when all holds. */
  readonly aside: string;
  /** The text that holds, header included: the file may be cut to this once `aside` is kept. */
  readonly sound: string;
  /** To be appended before anything else when something was put aside or is missing; else null. */
  readonly cut: JournalCut | null;
  /** Where the chain breaks, 1-based, and why; null when it holds to the end. */
  readonly broken: { readonly line: number; readonly why: string } | null;
}

/**
 * A journal from its text.
 *
 * Entries after a break are not read. A broken journal is still a value, with `broken` set and a warning:
 * the fold then treats the amplifier as not proven.
 *
 * @param least The chain's end that was noted elsewhere, so that a cut at a line's end shows too.
 * @param format What it has to be: a build, or practice.
 */
export function parseJournal(
  text: string,
  sha256: Sha256,
  least: ChainEnd | null = null,
  format: JournalHeader['format'] = 'kitwright-journal/1',
): Result<ParsedJournal> {
  const lastNewline = text.lastIndexOf('\n');
  const tail = text.slice(lastNewline + 1);
  const lines = lastNewline === -1 ? [] : text.slice(0, lastNewline).split('\n');
  const header = readHeader(lines[0], format);
  if (!header.ok) return header;
  const chain = readChain(lines.slice(1), header.value, sha256);
  const broken = chain.broken ?? cutShort(chain, least);
  const warnings: KitProblem[] = [];
  if (tail !== '') {
    warnings.push({
      code: 'journal/cut-off',
      severity: 'warning',
      line: lines.length + 1,
      message: 'The last line of the journal was not finished; it was cut off and kept aside.',
      hint: 'Nothing of it had been confirmed on screen. Do the last thing again.',
    });
  }
  if (broken !== null) {
    warnings.push({
      code: 'journal/broken',
      severity: 'warning',
      line: broken.line,
      message: `The journal does not hold together at line ${broken.line}: ${broken.why}.`,
      hint: 'The amplifier counts as not proven. Confirm the plug out and measure every store.',
    });
  }
  const sound = `${lines.slice(0, chain.entries.length + 1).join('\n')}\n`;
  const aside = text.slice(sound.length);
  const isSuspect = broken !== null || mayHidePlugIn(tail);
  const why = broken === null ? unfinishedLine : `line ${broken.line}: ${broken.why}`;
  const cut: JournalCut | null =
    broken === null && tail === '' ? null : { kind: 'journal-cut', suspect: isSuspect, why };
  return succeed({ header: header.value, ...chain, aside, sound, broken, cut }, warnings);
}

/**
 * A cut line may be the plug going in.
 *
 * A line whose kind can be read as another one hides nothing.
 */
function mayHidePlugIn(tail: string): boolean {
  if (tail === '') return false;
  const kind = /"kind":"([a-z-]+)"/.exec(tail)?.[1];
  return kind === undefined || kind === 'plugged-in' || kind === 'found-plugged-in' || kind === 'journal-cut';
}

function readHeader(line: string | undefined, format: JournalHeader['format']): Result<JournalHeader> {
  const value = line === undefined ? null : readJson(line);
  const isHeader = object({ format: isText, build: isText, kit: isText, revision: isText, kitHash: isText });
  if (isObject(value) && isPractice(value['format']) !== isPractice(format))
    return fail(practiceOrNot(format));
  const family = format.replace(/\d+$/, '');
  if (!isHeader(value) || !isObject(value) || !String(value['format']).startsWith(family)) {
    return fail({
      code: 'journal/no-header',
      severity: 'error',
      line: 1,
      message: 'This is not a journal: its first line does not name the build and its kit.',
      hint: 'Open the folder of a build, or a record.',
    });
  }
  if (value['format'] !== format) {
    return fail({
      code: 'journal/other-format',
      severity: 'error',
      line: 1,
      message: `This journal has the format ${String(value['format'])}; this version reads ${format}.`,
      hint: 'Open it with a newer version of the app.',
    });
  }
  return succeed(value as unknown as JournalHeader);
}

/** Whether a file's format is that of practice. */
function isPractice(format: unknown): boolean {
  return typeof format === 'string' && format.startsWith('kitwright-practice/');
}

/** Practice is never read as a build, nor a build as practice. */
function practiceOrNot(wanted: JournalHeader['format']): KitProblem {
  return isPractice(wanted)
    ? {
        code: 'journal/no-header',
        severity: 'error',
        line: 1,
        message: 'This is not a practice power-up.',
        hint: 'Open it as a build.',
      }
    : { ...practiceProblem, line: 1 };
}

/** Said wherever a practice power-up is taken for a build. */
export const practiceProblem: KitProblem = {
  code: 'journal/practice',
  severity: 'error',
  message: 'This is a practice power-up with simulated readings: it is no build, and never becomes one.',
  hint: 'Begin a build of your own amplifier.',
};

interface Chain {
  readonly entries: readonly JournalEntry[];
  readonly end: ChainEnd;
  readonly broken: ParsedJournal['broken'];
}

function readChain(lines: readonly string[], header: JournalHeader, sha256: Sha256): Chain {
  const entries: JournalEntry[] = [];
  let end = chainStart(header, sha256);
  for (const [index, line] of lines.entries()) {
    const entry = readEntry(line);
    const why =
      entry === null ? 'it is not an event that this version knows' : chainFault(entry, end, sha256);
    if (entry === null || why !== null) {
      return { entries, end, broken: { line: index + 2, why: why ?? 'it cannot be read' } };
    }
    entries.push(entry);
    end = { seq: entry.seq, hash: entry.hash };
  }
  return { entries, end, broken: null };
}

const isEntry = object({ seq: count, at: isText, run: isText, tick: number, previous: isText, hash: isText });

function readEntry(line: string): JournalEntry | null {
  const value = readJson(line);
  return isJournalEntry(value) ? value : null;
}

/** Whether something read from a file is one entry of a journal. */
export function isJournalEntry(value: unknown): value is JournalEntry {
  return isEntry(value) && isObject(value) && isBuildEvent(value['event']);
}

/** Why an entry does not follow a chain's end; null when it does. */
export function chainFault(entry: JournalEntry, end: ChainEnd, sha256: Sha256): string | null {
  if (entry.seq !== end.seq + 1) return `number ${end.seq + 1} should stand here, not ${entry.seq}`;
  if (entry.previous !== end.hash) return 'it does not follow the line before it';
  if (hashOf(entry, sha256) !== entry.hash) return 'its content was changed';
  return null;
}

function cutShort(chain: Chain, least: ChainEnd | null): ParsedJournal['broken'] {
  if (least === null || least.seq === 0) return null;
  const own = chain.entries[least.seq - 1];
  const line = chain.entries.length + 2;
  if (own === undefined)
    return { line, why: `${least.seq - chain.entries.length} or more lines are missing` };
  return own.hash === least.hash ? null : { line: least.seq + 1, why: 'it is not the line that was written' };
}

function readJson(line: string): unknown {
  try {
    return JSON.parse(line) as unknown;
  } catch {
    return null;
  }
}
