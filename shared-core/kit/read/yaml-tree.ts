/** A kit file as a tree of texts, lists and tables, with the position of everything in it. */
export interface YamlTree {
  /** Every scalar is the text as written; `undefined` stands for a value that is already reported. */
  readonly root: unknown;
  readonly values: Record<string, readonly [number, number]>;
  readonly keys: Record<string, readonly [number, number]>;
  /** Paths whose value is already reported as wrong: no second problem is raised there. */
  readonly reported: ReadonlySet<string>;
}
