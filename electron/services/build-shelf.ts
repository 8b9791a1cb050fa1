import { randomUUID } from 'node:crypto';
import type { ActOutcome, BuilderAction, BuildSummary } from '../../shared-core/contract/calls.ts';
import type { JournalHeader } from '../../shared-core/journal/journal-entry.ts';
import { chainStart, headerLine, nextEntry } from '../../shared-core/journal/journal-entry.ts';
import type { Choices } from '../../shared-core/kit/kit.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { fail } from '../../shared-core/problem/problem.ts';
import type { StartedFrom } from '../../shared-core/safety/energy-state.ts';
import { buildPaths, createBuildFolder, listBuilds } from '../files/build-folder.ts';
import { systemProblem } from '../files/kit-folder.ts';
import { sha256 } from '../files/sha256.ts';
import type { BuildSession } from './build-session.ts';
import type { KitOnDisk } from './open-kit.ts';
import { openSession } from './open-session.ts';
import type { SessionSurroundings } from './open-session.ts';
import { summariseFolder, summariseSession } from './summarise-build.ts';

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
      ...{ format: this.surroundings.format ?? 'kitwright-journal/1', build, kit: id },
      ...{ revision, kitHash: kit.folder.hash },
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

  /** Takes a changed kit for a build, which is then opened anew with it. */
  async acceptKit(
    session: BuildSession,
    expectedSeq: number,
    action: Extract<BuilderAction, { kind: 'accept-kit' }>,
  ): Promise<ActOutcome> {
    const outcome = await session.acceptKit(expectedSeq, action);
    if (outcome !== null) return outcome;
    const { build } = session.build;
    this.open.delete(build);
    await session.close();
    const again = await this.session(build);
    if (!again.ok) return { kind: 'problem', problems: again.problems };
    return { kind: 'done', view: again.value.view(), judged: null };
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
    const now = this.surroundings.stamp();
    const opened = await this.open.get(build);
    return opened?.ok
      ? summariseSession(opened.value, now)
      : summariseFolder(this.surroundings.dataFolder, build, now);
  }
}
