import type { Stats } from 'node:fs';
import { opendir, stat } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { Fleet, type FleetOptions } from '../../shared-core/feedback/fleet.ts';
import { type AsideRecord, inspectRecord } from '../../shared-core/feedback/inspect-record.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { systemProblem } from '../files/kit-folder.ts';
import { readTextFile } from '../files/read-text-file.ts';
import { sha256 } from '../files/sha256.ts';
import { BuildTable } from './build-table.ts';

/** Largest record that is read, in bytes: a few dozen photos. */
const largestRecord = 70_000_000;

/** Folders inside folders are looked into this deep. */
const deepest = 8;

/** What was found in folders and files. */
export interface Gathered {
  readonly fleet: Fleet;
  /** Files looked at. */
  readonly files: number;
  /** Files in the folders that are not `.json`. */
  readonly otherFiles: number;
  readonly aside: readonly AsideRecord[];
}

/**
 * Gathers the records in folders and files, one in memory at a time.
 *
 * The order is that of the names, so that equal folders give equal results.
 *
 * @param paths Folders, looked into with all that is inside them, or files.
 * @param from The folder that names are shown from.
 */
export async function gatherRecords(
  paths: readonly string[],
  from: string,
  options: FleetOptions,
): Promise<Result<Gathered>> {
  const found = await listFiles(paths);
  if (!found.ok) return found;
  const { files, otherFiles } = found.value;
  const fleet = new Fleet(options);
  const aside: AsideRecord[] = [];
  const builds = new BuildTable();
  const named = (path: string): string => {
    const near = relative(from, path);
    return near === '' || near.startsWith('..') ? path : near;
  };
  for (const [index, path] of files.entries()) {
    const own = await open(path);
    if (own.kind === 'aside') {
      aside.push({ file: named(path), reason: own.reason, why: own.why });
      continue;
    }
    const { record, isSimulated } = own;
    const foreign = fleet.refuses(record, isSimulated);
    if (foreign !== null) {
      aside.push({ file: named(path), reason: 'foreign', why: foreign });
      continue;
    }
    const key = sha256(record.header.build);
    const known = builds.find(key);
    const counted = known === null ? null : await open(files[known.file] ?? '');
    if (known !== null && counted?.kind === 'sound' && counted.record.header.build === record.header.build) {
      const [file, other] = [named(path), named(files[known.file] ?? '')];
      if (record.entries.length <= known.entries) {
        aside.push({
          file,
          reason: 'duplicate',
          why: `It is the build of ${other}, which is as long or longer`,
        });
        continue;
      }
      fleet.remove(counted.record, counted.isSimulated);
      aside.push({ file: other, reason: 'duplicate', why: `It is the build of ${file}, which is longer` });
    }
    builds.put(key, { file: index, entries: record.entries.length });
    fleet.add(record, isSimulated);
  }
  return succeed({ fleet, files: files.length, otherFiles, aside });
}

async function open(path: string): Promise<ReturnType<typeof inspectRecord>> {
  const text = await readTextFile(path, largestRecord);
  if (text.ok) return inspectRecord(text.value, sha256);
  return { kind: 'aside', reason: 'damaged', why: text.problems[0].message };
}

interface Found {
  readonly files: readonly string[];
  readonly otherFiles: number;
}

/** Every record's path, each once; all that cannot be looked into at once. */
async function listFiles(paths: readonly string[]): Promise<Result<Found>> {
  const files = new Set<string>();
  const problems: KitProblem[] = [];
  let otherFiles = 0;
  const look = async (path: string, depth: number): Promise<void> => {
    const entries: string[] = [];
    const folders: string[] = [];
    for await (const entry of await opendir(path)) {
      // Links are not followed: they may lead in a circle, or anywhere.
      if (entry.isDirectory() && depth < deepest) folders.push(entry.name);
      else if (entry.isFile() && entry.name.toLowerCase().endsWith('.json')) entries.push(entry.name);
      else otherFiles += 1;
    }
    for (const name of entries.toSorted()) files.add(join(path, name));
    for (const name of folders.toSorted()) await look(join(path, name), depth + 1);
  };
  for (const path of paths) {
    try {
      const found: Stats = await stat(path);
      if (found.isDirectory()) await look(path, 0);
      else files.add(path);
    } catch (error) {
      problems.push(systemProblem(error, path));
    }
  }
  const [first, ...rest] = problems;
  return first ? fail(first, ...rest) : succeed({ files: [...files], otherFiles });
}
