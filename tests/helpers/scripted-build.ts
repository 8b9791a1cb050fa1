import { createHash } from 'node:crypto';
import type { BuildEvent } from '../../shared-core/journal/build-event.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import { foldBuild, initialBuild, isSafetyEvent } from '../../shared-core/journal/fold-build.ts';
import {
  chainStart,
  headerLine,
  nextEntry,
  type JournalEntry,
  type JournalHeader,
  type Sha256,
} from '../../shared-core/journal/journal-entry.ts';
import type { StartedFrom } from '../../shared-core/safety/energy-state.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { refusals } from '../../shared-core/safety/safety.ts';
import type { Refusal } from '../../shared-core/safety/refusal.ts';
import { fakeClock, type FakeClock } from './fake-clock.ts';
import { eventFrom, type Actor } from './journey.ts';

/** SHA-256 as the host has it. */
export const sha256: Sha256 = (text) => createHash('sha256').update(text, 'utf8').digest('hex');

/** A build that is told event by event, with its journal and a clock that is moved by hand. */
export interface ScriptedBuild extends Actor {
  readonly clock: FakeClock;
  readonly header: JournalHeader;
  readonly state: () => BuildState;
  readonly entries: () => readonly JournalEntry[];
  /** The journal's text so far. */
  readonly text: () => string;
  /** What the rules would say; nothing is done. */
  readonly ask: (event: BuildEvent) => readonly Refusal[];
  /** The host stops and starts again, some seconds later (s). */
  readonly restart: (seconds?: number) => void;
}

export interface ScriptedBuildOptions {
  readonly facts: SafetyFacts;
  readonly header: JournalHeader;
  readonly startedFrom?: StartedFrom;
  readonly choices?: Readonly<Record<string, string>>;
  readonly startAt?: string;
}

/**
 * A new build, its first event written.
 *
 * Every journey goes through the same fold as the host's; `do` throws when the rules refuse.
 */
export function scriptBuild(options: ScriptedBuildOptions): ScriptedBuild {
  const { facts, header, startedFrom = 'loose parts', choices = {} } = options;
  const clock = fakeClock(options.startAt);
  const entries: JournalEntry[] = [];
  let lines = headerLine(header);
  let end = chainStart(header, sha256);
  let state = initialBuild(header);
  const ask = (event: BuildEvent): readonly Refusal[] =>
    isSafetyEvent(event) ? refusals(state.safety, event, clock.now(), facts) : [];
  const append = (event: BuildEvent): void => {
    const next = nextEntry(end, event, clock.now(), sha256);
    if (next === null) throw new Error(`${event.kind} cannot be written`);
    entries.push(next.entry);
    lines += next.line;
    end = { seq: next.entry.seq, hash: next.entry.hash };
    state = foldBuild(state, next.entry, facts);
  };
  append(eventFrom('build-started', { startedFrom, choices, app: 'scripted' }));
  return {
    facts,
    clock,
    header,
    wait: clock.wait,
    state: () => state,
    safety: () => state.safety,
    entries: () => entries,
    text: () => lines,
    ask,
    restart: (seconds) => {
      clock.restart(seconds);
      append(eventFrom('run-started'));
    },
    do: ((kind: BuildEvent['kind'], fields?: object) => {
      const event = eventFrom(kind, fields);
      const why = ask(event);
      if (why.length > 0) throw new Error(`${kind} refused: ${why.map((each) => each.message).join(' ')}`);
      append(event);
    }) as Actor['do'],
  };
}
