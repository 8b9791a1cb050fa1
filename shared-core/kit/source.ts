import type { Choices } from './kit.ts';

/**
 * Where in the file everything stands, kept beside the kit so that later checks can report by line.
 *
 * Plain data: it crosses processes with the kit. Paths are keys and indices joined by points, as in
 * `parts.R4.value` or `chapters.0.steps.3`.
 */
export interface KitSource {
  readonly file: string;
  /** Path to line and column of the value, both counted from 1. */
  readonly values: Readonly<Record<string, readonly [number, number]>>;
  /** Path to line and column of the key before the value. */
  readonly keys: Readonly<Record<string, readonly [number, number]>>;
  /** Item of a section to its path; see `pathOfItem`. */
  readonly items: Readonly<Record<string, string>>;
}

/** The sections whose items can be looked up. */
export type ItemSection = 'parts' | 'leads' | 'conditions' | 'readings' | 'steps' | 'chapters' | 'options';

/** A place in the file, ready to be spread into a problem. */
export interface SourcePosition {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/**
 * The position of a path, or of the nearest part of it that is in the file.
 *
 * @param prefer `value` points at what was written, `key` at its name.
 */
export function positionOf(
  source: KitSource,
  path: string,
  prefer: 'value' | 'key' = 'value',
): SourcePosition {
  const [first, second] = prefer === 'value' ? [source.values, source.keys] : [source.keys, source.values];
  for (let at = path; at !== ''; at = at.slice(0, Math.max(0, at.lastIndexOf('.')))) {
    const found = own(first, at) ?? own(second, at);
    if (found) return { file: source.file, line: found[0], column: found[1] };
  }
  return { file: source.file, line: 1, column: 1 };
}

/** The name under which an item is filed in `KitSource.items`. */
export function itemKey(section: ItemSection, id: string, when: Choices): string {
  const choices = Object.entries(when)
    .map(([option, choice]) => `${option}=${choice}`)
    .sort();
  return [section, id, ...choices].join('|');
}

/**
 * The path of a part, lead, condition, reading or step in the file.
 *
 * @returns For instance `parts.T1.0`; the section's name where the item is not known.
 */
export function pathOfItem(
  source: KitSource,
  section: ItemSection,
  item: { readonly id: string; readonly when?: Choices },
): string {
  return own(source.items, itemKey(section, item.id, item.when ?? {})) ?? section;
}

function own<Value>(record: Readonly<Record<string, Value>>, key: string): Value | undefined {
  return Object.hasOwn(record, key) ? record[key] : undefined;
}
