import type { BuildState } from '../../shared-core/journal/build-state.ts';
import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { Bench, Fitted } from '../../shared-core/prediction/bench.ts';
import { nominalBench } from '../../shared-core/prediction/nominal-bench.ts';
import { canonicalJson } from '../../shared-core/journal/canonical-json.ts';
import type { Result } from '../../shared-core/problem/problem.ts';
import { succeed } from '../../shared-core/problem/problem.ts';
import type { SafetyFacts } from '../../shared-core/safety/facts.ts';
import { findValveType } from '../../shared-core/valves/index.ts';
import type { Engine } from '../engine-worker/engine.ts';
import { keep, readKept } from '../files/build-folder.ts';
import type { BuildPaths } from '../files/build-folder.ts';
import { sha256 } from '../files/sha256.ts';

/** What a build's predictions and facts depend on. */
export interface Basis {
  readonly bench: Bench;
  readonly fitted: Fitted;
}

/**
 * The bench and valves of a build so far; the nominal bench until one is recorded.
 *
 * A valve of the kit's own type changes nothing, whatever it is called.
 */
export function basisOf(chosen: ChosenKit, { bench, fitted }: Pick<BuildState, 'bench' | 'fitted'>): Basis {
  const others = Object.entries(fitted.valves).filter(([socket, type]) => {
    const part = chosen.parts.find(({ id }) => id === socket);
    const own = part?.kind === 'valve' ? findValveType(part.type, chosen.valves) : undefined;
    return own === undefined || findValveType(type, chosen.valves) !== own;
  });
  const valves = Object.fromEntries(others);
  return { bench: bench ?? nominalBench(chosen), fitted: { ...fitted, valves } };
}

/** A name for everything that an answer of the engine depends on. */
export function basisKey(kitHash: string, chosen: ChosenKit, basis: Basis): string {
  return sha256(canonicalJson({ kitHash, choices: chosen.choices, ...basis }) ?? '');
}

/** The name of a condition's prediction. */
export function conditionKey(condition: string, key: string): string {
  return `${condition}\n${key}`;
}

/**
 * The facts of a build on a bench: computed once, then kept with the build.
 *
 * Kept, so that a journal always folds to the same state, whatever a later version computes, and so that a
 * build opens at once after a crash.
 */
export class FactsSource {
  private readonly known = new Map<string, SafetyFacts>();
  private readonly engine: Engine;
  private readonly paths: BuildPaths;
  private readonly kitHash: string;
  readonly chosen: ChosenKit;

  constructor(engine: Engine, paths: BuildPaths, kitHash: string, chosen: ChosenKit) {
    this.engine = engine;
    this.paths = paths;
    this.kitHash = kitHash;
    this.chosen = chosen;
  }

  /** The key under which the facts of a basis are known. */
  keyOf(basis: Basis): string {
    return basisKey(this.kitHash, this.chosen, basis);
  }

  /** Facts that were asked for before; null when they have to be computed first. */
  knownFor(basis: Basis): SafetyFacts | null {
    return this.known.get(this.keyOf(basis)) ?? null;
  }

  /** The facts of a basis, computed where they are not kept. */
  async factsFor(basis: Basis): Promise<Result<SafetyFacts>> {
    const kept = await this.keptFor(basis);
    if (kept !== null) return succeed(kept);
    const key = this.keyOf(basis);
    const { chosen, kitHash } = this;
    const made = await this.engine.run('facts', { chosen, kitHash, ...basis }, { key, slot: key });
    if (!made.ok) return made;
    const { facts, predictions } = made.value;
    for (const prediction of predictions) {
      this.engine.remember('condition', conditionKey(prediction.condition, key), prediction);
    }
    await keep(this.paths, nameOf(key), { facts, seal: sealOf(key, facts) });
    return succeed(this.remember(key, facts));
  }

  /** The facts of a basis as far as they are kept; null where they would have to be computed. */
  async keptFor(basis: Basis): Promise<SafetyFacts | null> {
    const key = this.keyOf(basis);
    const known = this.known.get(key);
    if (known) return known;
    const kept = (await readKept(this.paths, nameOf(key))) as Partial<KeptFacts> | null;
    if (!kept?.facts || kept.seal !== sealOf(key, kept.facts)) return null;
    return this.remember(key, kept.facts);
  }

  private remember(key: string, facts: SafetyFacts): SafetyFacts {
    this.known.set(key, facts);
    return facts;
  }
}

/** Facts as they are kept: a file that was edited no longer matches its seal and is computed anew. */
interface KeptFacts {
  readonly facts: SafetyFacts;
  readonly seal: string;
}

function sealOf(key: string, facts: SafetyFacts): string {
  return sha256(`${key}\n${canonicalJson(facts) ?? ''}`);
}

/** The name that facts are kept under; its number goes up when facts get a member that the rules ask for. */
function nameOf(key: string): string {
  return `facts-5-${key.slice(0, 32)}`;
}
