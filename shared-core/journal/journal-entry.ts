import type { Stamp } from '../safety/stamp.ts';
import type { BuildEvent } from './build-event.ts';
import { canonicalJson } from './canonical-json.ts';

/** The first line of a journal. */
export interface JournalHeader {
  /** A practice power-up has a format of its own: as a build, it cannot be read. */
  readonly format: 'kitwright-journal/1' | 'kitwright-practice/1';
  /** UUID of the build. */
  readonly build: string;
  readonly kit: string;
  readonly revision: string;
  readonly kitHash: string;
  /**
   * Readings drawn by chance, no builder and no amplifier; absent for every build.
   *
   * Part of the chain's start, so that it cannot be taken away without breaking every link.
   */
  readonly made?: 'simulated';
}

/** One event with its place in the chain. */
export interface JournalEntry extends Stamp {
  /** From 1. */
  readonly seq: number;
  /** Hash of the entry before; of the header for the first. */
  readonly previous: string;
  /** SHA-256, in lower-case hex, of the RFC 8785 form of this entry without `hash`. */
  readonly hash: string;
  readonly event: BuildEvent;
}

/** SHA-256 of UTF-8 text, in lower-case hex; given by the caller. */
export type Sha256 = (text: string) => string;

/** The end of a chain: what the next entry builds on. */
export interface ChainEnd {
  readonly seq: number;
  readonly hash: string;
}

/** The header's line, with its newline. */
export function headerLine(header: JournalHeader): string {
  return `${canonicalJson(header)}\n`;
}

/** The chain's end after the header alone. */
export function chainStart(header: JournalHeader, sha256: Sha256): ChainEnd {
  return { seq: 0, hash: sha256(canonicalJson(header) ?? '') };
}

/**
 * The next entry of a chain and its line, with newline.
 *
 * @returns null for an event that has no RFC 8785 form (a number that is not finite, broken text).
 */
export function nextEntry(
  end: ChainEnd,
  event: BuildEvent,
  stamp: Stamp,
  sha256: Sha256,
): { readonly entry: JournalEntry; readonly line: string } | null {
  const { at, run, tick } = stamp;
  const open = { seq: end.seq + 1, at, run, tick, previous: end.hash, event };
  const form = canonicalJson(open);
  if (form === null) return null;
  const entry: JournalEntry = { ...open, hash: sha256(form) };
  return { entry, line: `${canonicalJson(entry)}\n` };
}

/** The hash that an entry should carry; null when it has no RFC 8785 form. */
export function hashOf(entry: JournalEntry, sha256: Sha256): string | null {
  const { hash: _, ...open } = entry;
  const form = canonicalJson(open);
  return form === null ? null : sha256(form);
}
