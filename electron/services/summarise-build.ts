import type { BuildSummary } from '../../shared-core/contract/calls.ts';
import { parseJournal } from '../../shared-core/journal/parse-journal.ts';
import type { ParsedJournal } from '../../shared-core/journal/parse-journal.ts';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { safetyAt } from '../../shared-core/safety/safety.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import type { Engine } from '../engine-worker/engine.ts';
import { buildPaths, readEnd } from '../files/build-folder.ts';
import type { BuildPaths } from '../files/build-folder.ts';
import { readJournalFile } from '../files/journal-file.ts';
import { systemProblem } from '../files/kit-folder.ts';
import { findHolder } from '../files/lock-file.ts';
import { sha256 } from '../files/sha256.ts';
import type { BuildSession } from './build-session.ts';
import { FactsSource } from './facts-source.ts';
import { openChangedKit } from './changed-kit.ts';
import { openKit } from './open-kit.ts';
import type { KitOnDisk } from './open-kit.ts';
import { choicesOf, replay } from './replay.ts';

/** One line about a build that is open here. */
export function summariseSession({ build, parts }: BuildSession, now: Stamp): BuildSummary {
  const { startedAt, lastAt, revision, signature } = build;
  const energy = safetyAt(build.safety, now).energy.kind;
  const kitName = parts.source.chosen.name;
  const signed = signature !== null;
  return { build: build.build, kitName, revision, energy, startedAt, lastAt, signed, problem: null };
}

/**
 * One line about a build that is not open here, from its files alone; nothing is computed or written.
 *
 * Its energy state is what opening it now would give. It is unknown while another face writes to it, and
 * where what the rules need to know is not kept with it.
 */
export async function summariseFolder(dataFolder: string, build: string, now: Stamp): Promise<BuildSummary> {
  const nothing = {
    build,
    kitName: '',
    revision: '',
    energy: 'unknown',
    startedAt: null,
    lastAt: null,
  } as const;
  const paths = buildPaths(dataFolder, build);
  if (!paths) return { ...nothing, signed: false, problem: 'Its name is not one of a build' };
  try {
    const parsed = parseJournal(await readJournalFile(paths.journal), sha256, await readEnd(paths));
    if (!parsed.ok) return { ...nothing, signed: false, problem: parsed.problems[0].message };
    const { header, entries } = parsed.value;
    const kit = await openKit(paths.kit);
    return {
      build,
      kitName: kit.ok ? kit.value.kit.name : header.kit,
      revision: header.revision,
      energy: kit.ok ? await energyOf(paths, parsed.value, kit.value, now) : 'unknown',
      startedAt: entries[0]?.at ?? null,
      lastAt: entries.at(-1)?.at ?? null,
      signed: entries.some(({ event }) => event.kind === 'signed'),
      problem: kit.ok ? null : kit.problems[0].message,
    };
  } catch (error) {
    return { ...nothing, signed: false, problem: systemProblem(error, paths.journal).message };
  }
}

async function energyOf(
  paths: BuildPaths,
  journal: ParsedJournal,
  kit: KitOnDisk,
  now: Stamp,
): Promise<BuildSummary['energy']> {
  if (kit.folder.hash !== journal.header.kitHash || (await findHolder(paths.lock)) !== null) return 'unknown';
  const chosen = chooseKit(kit.kit, choicesOf(journal.entries));
  if (!chosen.ok) return 'unknown';
  const source = new FactsSource(noEngine, paths, journal.header.kitHash, chosen.value);
  const replayed = await replay(journal, source, async (kitHash) => {
    const changed = await openChangedKit(paths, kitHash, choicesOf(journal.entries));
    return changed.ok ? succeed(new FactsSource(noEngine, paths, kitHash, changed.value.chosen)) : changed;
  });
  return replayed.ok ? safetyAt(replayed.value.build.safety, now).energy.kind : 'unknown';
}

/** A list is no place to compute. */
const noEngine: Engine = {
  run: () =>
    Promise.resolve(
      fail({ code: 'predict/failed', severity: 'error', message: 'Nothing is computed for a list' }),
    ),
  remember: () => undefined,
  close: () => Promise.resolve(),
};
