import type { BuildState } from '../../shared-core/journal/build-state.ts';
import { foldBuild, initialBuild } from '../../shared-core/journal/fold-build.ts';
import type { JournalEntry } from '../../shared-core/journal/journal-entry.ts';
import type { ParsedJournal } from '../../shared-core/journal/parse-journal.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import { afterCut } from '../../shared-core/safety/initial-safety.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { basisOf } from './facts-source.ts';
import type { FactsSource } from './facts-source.ts';

/** A build folded from its journal, with the facts as they stand at its end. */
export interface Replayed {
  readonly build: BuildState;
  readonly facts: SafetyFacts;
}

/**
 * Folds a journal, each entry with the facts of the kit, the bench and the valves at that moment.
 *
 * That is how the entries were judged when they were written: facts of a later bench could refuse them.
 */
export async function replay(
  journal: ParsedJournal,
  first: FactsSource,
  changed: (kitHash: string) => Promise<Result<FactsSource>>,
): Promise<Result<Replayed>> {
  let source = first;
  let build = initialBuild(journal.header);
  let facts = await source.factsFor(basisOf(source.chosen, build));
  for (const entry of journal.entries) {
    if (!facts.ok) return facts;
    const before = build;
    build = foldBuild(before, entry, facts.value);
    if (build.kitHash !== before.kitHash) {
      const next = await changed(build.kitHash);
      if (!next.ok) return next;
      source = next.value;
    }
    const isSameBasis =
      build.bench === before.bench && build.fitted === before.fitted && build.kitHash === before.kitHash;
    if (!isSameBasis) facts = await source.factsFor(basisOf(source.chosen, build));
  }
  if (!facts.ok) return facts;
  const safety = journal.cut === null ? build.safety : afterCut(build.safety, journal.cut);
  return succeed({ build: { ...build, safety }, facts: facts.value });
}

/** The choices that a build was started with; none where its journal is empty. */
export function choicesOf(entries: readonly JournalEntry[]): Readonly<Record<string, string>> {
  const first = entries[0]?.event;
  return first?.kind === 'build-started' ? first.choices : {};
}
