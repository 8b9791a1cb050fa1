import type { Stamp } from '../safety/stamp.ts';
import type { BuildEvent } from './build-event.ts';

/** The first line of a journal. */
export interface JournalHeader {
  readonly format: 'kitwright-journal/1';
  /** UUID of the build. */
  readonly build: string;
  readonly kit: string;
  readonly revision: string;
  readonly kitHash: string;
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
