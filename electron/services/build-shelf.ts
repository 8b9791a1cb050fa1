import { randomUUID } from 'node:crypto';
import type { BuildSummary } from '../../shared-core/contract/calls.ts';
import type { JournalHeader } from '../../shared-core/journal/journal-entry.ts';
import { chainStart, headerLine, nextEntry } from '../../shared-core/journal/journal-entry.ts';
import { parseJournal } from '../../shared-core/journal/parse-journal.ts';
import type { ParsedJournal } from '../../shared-core/journal/parse-journal.ts';
import type { Choices } from '../../shared-core/kit/kit.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { fail } from '../../shared-core/problem/problem.ts';
import type { StartedFrom } from '../../shared-core/safety/energy-state.ts';
import { safetyAt } from '../../shared-core/safety/safety.ts';
import { buildPaths, createBuildFolder, listBuilds } from '../files/build-folder.ts';
import { readJournalFile } from '../files/journal-file.ts';
import { systemProblem } from '../files/kit-folder.ts';
import { sha256 } from '../files/sha256.ts';
import type { BuildSession } from './build-session.ts';
import { openKit } from './open-kit.ts';
import type { KitOnDisk } from './open-kit.ts';
import { openSession } from './open-session.ts';
import type { SessionSurroundings } from './open-session.ts';

/** All builds of a data folder, and the sessions of those that are open. */
export class BuildShelf {
  private readonly surroundings: SessionSurroundings;
  private readonly open = new Map<string, Promise<Result<BuildSession>>>();

  constructor(surroundings: SessionSurroundings) {
    this.surroundings = surroundings;
  }

  /** Begins a build and opens it. */
  async start(
    kit: KitOnDisk,
    choices: Choices,
    startedFrom: StartedFrom,
    app: string,
  ): Promise<Result<BuildSession>> {
    const build = randomUUID();
    const { dataFolder, stamp } = this.surroundings;
    const paths = buildPaths(dataFolder, build);
    if (!paths) throw new Error(`A new UUID is not a build's name: ${build}`);
    const { id, revision } = kit.kit;
    const header: JournalHeader = {
      ...{ format: 'kitwright-journal/1', build, kit: id, revision, kitHash: kit.folder.hash },
    };
    const event = { kind: 'build-started', by: 'hand', startedFrom, choices, app } as const;
    const first = nextEntry(chainStart(header, sha256), event, stamp(), sha256);
    if (!first) throw new Error('The first entry of a build cannot be written down');
    try {
      await createBuildFolder(paths, headerLine(header) + first.line, kit.folder);
    } catch (error) {
      return fail(systemProblem(error, paths.folder));
    }
    return this.session(build);
  }

  /** The session of a build; opened where it is not. One that may not write is opened anew each time. */
  async session(build: string): Promise<Result<BuildSession>> {
    const known = this.open.get(build);
    if (known) {
      const result = await known;
      if (result.ok && result.value.isWriter) return result;
      // Another face may have written since, or have gone.
      if (this.open.get(build) === known) this.open.delete(build);
      return this.session(build);
    }
    const opening = openSession(this.surroundings, build);
    this.open.set(build, opening);
    const result = await opening;
    const isKept = result.ok && result.value.isWriter;
    if (!isKept && this.open.get(build) === opening) this.open.delete(build);
    return result;
  }

  /** Every open build that this program may write to. */
  async writers(): Promise<readonly BuildSession[]> {
    const results = await Promise.all(this.open.values());
    return results.flatMap((result) => (result.ok && result.value.isWriter ? [result.value] : []));
  }

  /** Every build, the one touched last first. */
  async summaries(): Promise<readonly BuildSummary[]> {
    const builds = await listBuilds(this.surroundings.dataFolder);
    const summaries = await Promise.all(builds.map((build) => this.summary(build)));
    return summaries.sort((one, other) => ((one.lastAt ?? '') < (other.lastAt ?? '') ? 1 : -1));
  }

  async close(): Promise<void> {
    for (const session of await this.writers()) await session.close();
    this.open.clear();
  }

  private async summary(build: string): Promise<BuildSummary> {
    const opened = await this.open.get(build);
    if (opened?.ok) return this.summaryOfSession(opened.value);
    const unknown = { build, energy: 'unknown', startedAt: null, lastAt: null, signed: false } as const;
    const paths = buildPaths(this.surroundings.dataFolder, build);
    if (!paths) return { ...unknown, kitName: '', revision: '', problem: 'Its name is not one of a build' };
    try {
      const parsed = parseJournal(await readJournalFile(paths.journal), sha256);
      if (!parsed.ok) return { ...unknown, kitName: '', revision: '', problem: parsed.problems[0].message };
      const kit = await openKit(paths.kit);
      const kitName = kit.ok ? kit.value.kit.name : parsed.value.header.kit;
      return {
        ...unknown,
        ...datesOf(parsed.value),
        kitName,
        revision: parsed.value.header.revision,
        problem: null,
      };
    } catch (error) {
      return { ...unknown, kitName: '', revision: '', problem: systemProblem(error, paths.journal).message };
    }
  }

  private summaryOfSession(session: BuildSession): BuildSummary {
    const { build, parts } = session;
    const { startedAt, lastAt, revision, signature } = build;
    const energy = safetyAt(build.safety, this.surroundings.stamp()).energy.kind;
    const kitName = parts.source.chosen.name;
    const signed = signature !== null;
    return { build: build.build, kitName, revision, energy, startedAt, lastAt, signed, problem: null };
  }
}

function datesOf({ entries }: ParsedJournal): Pick<BuildSummary, 'startedAt' | 'lastAt' | 'signed'> {
  return {
    startedAt: entries[0]?.at ?? null,
    lastAt: entries.at(-1)?.at ?? null,
    signed: entries.some(({ event }) => event.kind === 'signed'),
  };
}
