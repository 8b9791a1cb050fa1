import type { Covariates } from './covariates.ts';

/** Deviations beyond this are counted at it: one missed joint must not speak for a brand. */
const clip = 4;

/** Levels of one matter that are kept apart (brands of one socket, kinds of meter). */
const mostLevels = 16;
const mostMatters = 40;
const others = 'all others';

/** Sums of the deviations of one level. */
export interface LevelSums {
  count: number;
  sum: number;
  squares: number;
}

/** Deviations of one reading by matter and level; a fixed amount of memory. */
export class CovariateTally {
  readonly matters = new Map<string, Map<string, LevelSums>>();

  /** @param by 1 counts, −1 takes out again. */
  count(covariates: Covariates, deviation: number, by: 1 | -1): void {
    const clipped = Math.min(Math.max(deviation, -clip), clip);
    for (const [name, level] of covariates) {
      const levels = this.matters.get(name) ?? this.#open(name);
      if (levels === null) continue;
      const key = levels.has(level) || levels.size < mostLevels ? level : others;
      const sums = levels.get(key) ?? { count: 0, sum: 0, squares: 0 };
      sums.count += by;
      sums.sum += by * clipped;
      sums.squares += by * clipped * clipped;
      levels.set(key, sums);
    }
  }

  #open(name: string): Map<string, LevelSums> | null {
    if (this.matters.size >= mostMatters) return null;
    const levels = new Map<string, LevelSums>();
    this.matters.set(name, levels);
    return levels;
  }
}

/** Stands between the words of a key: a control character, which no brand has. */
const between = '\u0000';

/** In how many builds two matters met at two levels: tells whether one can be seen apart from the other. */
export class CrossTally {
  readonly #pairs = new Map<string, number>();
  static readonly most = 4000;

  count(covariates: Covariates, by: 1 | -1): void {
    for (const [index, [name, level]] of covariates.entries()) {
      for (const [other, otherLevel] of covariates.slice(index + 1)) {
        const key = [name, other, level, otherLevel].join(between);
        const known = this.#pairs.get(key);
        if (known !== undefined || this.#pairs.size < CrossTally.most) {
          this.#pairs.set(key, (known ?? 0) + by);
        }
      }
    }
  }

  /** Matters that always change together with a given one, each level of one with one level of the other. */
  boundTo(name: string): readonly string[] {
    const levels = new Map<string, { own: Set<string>; pairs: Set<string>; others: Set<string> }>();
    for (const [key, count] of this.#pairs) {
      const [one, other, oneLevel, otherLevel] = key.split(between) as [string, string, string, string];
      if (count <= 0 || (one !== name && other !== name)) continue;
      const [matter, own, its] = one === name ? [other, oneLevel, otherLevel] : [one, otherLevel, oneLevel];
      const seen = levels.get(matter) ?? { own: new Set(), pairs: new Set(), others: new Set() };
      seen.own.add(own);
      seen.others.add(its);
      seen.pairs.add([own, its].join(between));
      levels.set(matter, seen);
    }
    return [...levels]
      .filter(
        ([, { own, others: its, pairs }]) => own.size > 1 && own.size === pairs.size && its.size === own.size,
      )
      .map(([matter]) => matter);
  }
}
