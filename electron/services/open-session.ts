import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { chooseKit } from '../../shared-core/kit/choose-kit.ts';
import type { JournalHeader } from '../../shared-core/journal/journal-entry.ts';
import { parseJournal, practiceProblem } from '../../shared-core/journal/parse-journal.ts';
import type { ParsedJournal } from '../../shared-core/journal/parse-journal.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import type { Engine } from '../engine-worker/engine.ts';
import { buildPaths, practiceFolderName, readEnd, readOrigin } from '../files/build-folder.ts';
import type { BuildPaths } from '../files/build-folder.ts';
import { JournalFile, readJournalFile } from '../files/journal-file.ts';
import { systemProblem } from '../files/kit-folder.ts';
import { takeLock } from '../files/lock-file.ts';
import type { LockOwner } from '../files/lock-file.ts';
import { sha256 } from '../files/sha256.ts';
import { BuildSession } from './build-session.ts';
import { offerKit, openChangedKit } from './changed-kit.ts';
import type { BuildKit } from './changed-kit.ts';
import { FactsSource } from './facts-source.ts';
import { openKit } from './open-kit.ts';
import type { KitOnDisk } from './open-kit.ts';
import { choicesOf, replay } from './replay.ts';

/** What every session of one start of the host shares. */
export interface SessionSurroundings {
  readonly dataFolder: string;
  readonly engine: Engine;
  readonly owner: LockOwner;
  readonly stamp: () => Stamp;
  /** What its journals are; builds where left out. */
  readonly format?: JournalHeader['format'];
  readonly changed: (build: string, seq: number, lapsed?: true) => void;
}

/**
 * Opens a build: takes its lock, reads and folds its journal, and writes that a run has started.
 *
 * Where another face holds the lock, the build opens to look at. What of the journal does not hold is put
 * aside, and the entry that says so comes before anything else.
 */
export async function openSession(
  surroundings: SessionSurroundings,
  build: string,
): Promise<Result<BuildSession>> {
  const paths = buildPaths(surroundings.dataFolder, build);
  if (!paths) return fail(notFound(build));
  let release: (() => Promise<void>) | null = null;
  try {
    const lock = await takeLock(paths.lock, surroundings.owner);
    if (lock.kind === 'taken') release = lock.release;
    const opened = await openLocked(surroundings, paths, release);
    if (!opened.ok) await release?.();
    return opened;
  } catch (error) {
    await release?.();
    const problem = systemProblem(error, paths.folder);
    if (problem.code !== 'file/not-found') return fail(problem);
    return fail(isPracticeIn(surroundings.dataFolder, build) ? practiceProblem : notFound(build));
  }
}

async function openLocked(
  surroundings: SessionSurroundings,
  paths: BuildPaths,
  release: (() => Promise<void>) | null,
): Promise<Result<BuildSession>> {
  const { engine, stamp, changed } = surroundings;
  const text = await readJournalFile(paths.journal);
  const parsed = parseJournal(text, sha256, await readEnd(paths), surroundings.format);
  if (!parsed.ok) return parsed;
  const journal = parsed.value;
  const kit = await openKitCopy(paths, journal);
  if (!kit.ok) return kit;
  const chosen = chooseKit(kit.value.kit, choicesOf(journal.entries));
  if (!chosen.ok) return chosen;
  const choices = choicesOf(journal.entries);
  let own: BuildKit = { kit: kit.value, chosen: chosen.value };
  let source = new FactsSource(engine, paths, journal.header.kitHash, chosen.value);
  const replayed = await replay(journal, source, async (kitHash) => {
    const changed = await openChangedKit(paths, kitHash, choices);
    if (!changed.ok) return changed;
    own = changed.value;
    source = new FactsSource(engine, paths, kitHash, own.chosen);
    return succeed(source);
  });
  if (!replayed.ok) return replayed;
  const kitPath = await readOrigin(paths);
  const offer = await offerKit(kitPath, replayed.value.build.kitHash, choices);
  const opened = release ? await JournalFile.open(paths.journal, Buffer.byteLength(journal.sound)) : null;
  const session = new BuildSession(
    {
      ...{ paths, header: journal.header, kit: own.kit, source, engine, stamp, changed, kitPath },
      offered: offer.changed,
      journal: opened?.journal ?? null,
      release: release ?? (() => Promise.resolve()),
      notices: [...parsed.warnings, ...asideNotice(opened?.cutFile), ...offer.notices],
    },
    { ...replayed.value, entries: journal.entries, end: journal.end },
  );
  if (!session.isWriter) return succeed(session);
  const problems = await writeStart(session, journal);
  if (!problems) return succeed(session);
  await session.close();
  return { ok: false, problems };
}

/** A new run lapses what was proven (rule 8); before it comes what was cut from the journal. */
async function writeStart(session: BuildSession, { cut, entries }: ParsedJournal) {
  const problems = cut === null ? null : await session.note(cut);
  if (problems) return problems;
  const last = entries.at(-1);
  const isNewBuild = last?.run === session.parts.stamp().run && last.seq === 1;
  return isNewBuild ? null : await session.note({ kind: 'run-started' });
}

/** The kit as it was when the build began; its hash has to be the one in the journal. */
async function openKitCopy(paths: BuildPaths, { header }: ParsedJournal): Promise<Result<KitOnDisk>> {
  const kit = await openKit(paths.kit);
  if (!kit.ok || kit.value.folder.hash === header.kitHash) return kit;
  return fail({
    code: 'build/kit-copy',
    severity: 'error',
    message: 'The copy of the kit that is kept with this build was changed',
    file: paths.kit,
    hint: 'Treat the amplifier as live. Put the files back as they were, or start the build anew as assembled.',
  });
}

function asideNotice(cutFile: string | null | undefined): readonly KitProblem[] {
  if (!cutFile) return [];
  const message = 'What was cut off is kept beside the journal';
  return [{ code: 'journal/cut-off', severity: 'warning', message, file: cutFile }];
}

/** A practice power-up of that name lies in the practice folder. */
function isPracticeIn(dataFolder: string, build: string): boolean {
  const paths = buildPaths(join(dataFolder, practiceFolderName), build);
  return paths !== null && existsSync(paths.journal);
}

function notFound(build: string): KitProblem {
  const message = `There is no build "${build}" in the data folder`;
  return { code: 'build/not-found', severity: 'error', message, hint: 'Choose one from the list.' };
}
