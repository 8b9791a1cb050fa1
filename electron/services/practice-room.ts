import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import { seedOfText } from '../../shared-core/numerics/random.ts';
import { storeAfter } from '../../shared-core/prediction/store-after.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import { curveVolts } from '../../shared-core/safety/drain-curve.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import { buildPaths, practiceFolderName } from '../files/build-folder.ts';
import { basisOf, conditionKey } from './facts-source.ts';
import type { BuildSession } from './build-session.ts';
import { BuildShelf } from './build-shelf.ts';
import type { SessionSurroundings } from './open-session.ts';

/** Longest wait that is skipped at once, in seconds (s). */
const longestSkipSeconds = 3600;

/** Rest of charge that any store shows, in volts (V): common practice, no source. */
const restVolts = 0.04;

/**
 * Practice power-ups: the same rules and screens on an invented amplifier.
 *
 * They have their own folder and their own format, and a clock that may be set forward: the host's own never is.
 */
export class PracticeRoom {
  readonly shelf: BuildShelf;
  private readonly folder: string;
  private readonly stampOutside: () => Stamp;
  private readonly engine: SessionSurroundings['engine'];
  private skipped = 0;

  constructor(surroundings: SessionSurroundings) {
    this.folder = join(surroundings.dataFolder, practiceFolderName);
    this.stampOutside = surroundings.stamp;
    this.engine = surroundings.engine;
    this.shelf = new BuildShelf({
      ...surroundings,
      dataFolder: this.folder,
      format: 'kitwright-practice/1',
      stamp: () => this.stamp(),
    });
  }

  /** Time skipped so far, in milliseconds (ms). */
  get skippedMs(): number {
    return this.skipped;
  }

  /** Whether a name is that of a practice power-up here. */
  has(build: string): boolean {
    const paths = buildPaths(this.folder, build);
    return paths !== null && existsSync(paths.journal);
  }

  /** Sets the clock of all practice forward: allowed here only. */
  skip(seconds: number): void {
    this.skipped += Math.min(Math.max(seconds, 0), longestSkipSeconds) * 1000;
  }

  /** What the meter shows at a reading of the invented amplifier, as it is typed. */
  async reading(session: BuildSession, id: string): Promise<Result<string>> {
    const { source } = session.parts;
    const { chosen } = source;
    const condition = chosen.readings.find((each) => each.id === id)?.in;
    if (condition === undefined) return fail(notHere(id));
    const basis = basisOf(chosen, session.build);
    const seed = seedOf(session.build);
    const key = `${conditionKey(condition, source.keyOf(basis))}\n${seed}`;
    const needs = { chosen, ...basis, condition, seed };
    const made = await this.engine.run('practice', needs, { key, slot: key });
    if (!made.ok) return made;
    const value = made.value[id];
    return value === undefined ? fail(notHere(id)) : succeed(value === null ? 'OL' : fourFigures(value));
  }

  /** What the meter shows across a store of the invented amplifier, in volts (V). */
  store(session: BuildSession, part: string): Result<string> {
    const store = session.currentFacts.stores.find((each) => each.part === part);
    if (store === undefined) return fail(notHere(part));
    return succeed(String(Number(storeVolts(session.build, store, this.stamp()).toPrecision(3))));
  }

  /** The practice's own clocks: the host's, and what was skipped on top of both. */
  private stamp(): Stamp {
    const { at, run, tick } = this.stampOutside();
    return { run, tick: tick + this.skipped, at: new Date(Date.parse(at) + this.skipped).toISOString() };
  }
}

/** The same amplifier for as long as the practice lasts. */
function seedOf({ build }: Pick<BuildState, 'build'>): number {
  return seedOfText(build);
}

function storeVolts({ safety }: BuildState, store: SafetyFacts['stores'][number], now: Stamp): number {
  const { energy, clips } = safety;
  if (energy.kind !== 'draining' || energy.plugOut === null || !energy.timeKnown) return restVolts;
  if (clips[store.part] !== undefined) return restVolts;
  const seconds = (now.tick - energy.plugOut.tick) / 1000;
  const volts = curveVolts(storeAfter(store, energy.from).likely, seconds) ?? 0;
  return Math.max(volts, restVolts);
}

/** Four figures, with the prefix that a meter would show. */
function fourFigures(value: number): string {
  const size = Math.abs(value);
  const [scale, prefix] = size >= 1e6 ? [1e6, 'M'] : size >= 1e3 ? [1e3, 'k'] : [1, ''];
  return `${Number((value / scale).toPrecision(4))}${prefix}`;
}

function notHere(id: string) {
  const message = `The practice amplifier has nothing called "${id}"`;
  return { code: 'journal/practice', severity: 'error', message } as const;
}
