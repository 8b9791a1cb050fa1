/** Longest text that is kept of what a builder typed, in characters. */
const longestText = 200;

/** A text of a builder, cut to what a table can hold. */
export function shortened(text: string): string {
  const plain = text.trim().replace(/\s+/gu, ' ');
  return plain.length > longestText ? `${plain.slice(0, longestText - 1)}…` : plain;
}

/** Counts of names, at most so many of them; what comes later under a new name is counted together. */
export class NameCounts {
  readonly #counts = new Map<string, number>();
  readonly #most: number;
  #beyond = 0;

  constructor(most: number) {
    this.#most = most;
  }

  /** @param by −1 takes out again what was added. */
  add(name: string, by: number): void {
    const known = this.#counts.get(name);
    if (known === undefined && (this.#counts.size >= this.#most || by < 0)) this.#beyond += by;
    else if ((known ?? 0) + by === 0) this.#counts.delete(name);
    else this.#counts.set(name, (known ?? 0) + by);
  }

  /** Counts of names for which there was no room. */
  get beyond(): number {
    return this.#beyond;
  }

  /** Names with their counts, the most frequent first; equal counts in the order of the alphabet. */
  ranked(): readonly { readonly name: string; readonly count: number }[] {
    return [...this.#counts]
      .map(([name, count]) => ({ name, count }))
      .sort((one, other) => other.count - one.count || (one.name < other.name ? -1 : 1));
  }
}
