import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

/**
 * What stands in for a value that is already reported as wrong, so that the rest of its item can be checked.
 *
 * Only values that decide nothing about what is connected, fitted, switched or in which order things are done.
 * `null` leaves the key out. A salvaged kit is never used: the mistake itself is an error.
 */
const standIns: Readonly<Record<string, readonly (string | null)[]>> = {
  name: ['?'],
  maker: ['?'],
  about: [null],
  title: ['?'],
  do: ['?'],
  more: [null],
  marking: [null],
  cautions: [null],
  inspect: [null],
  colour: ['?'],
  length: [null],
  style: [null],
  tolerance: ['5 %'],
  rating: ['1 W', '1 V'],
  volts: ['1 V'],
  at: ['1 A'],
  value: ['1 ohm', '1 uF', '1 H', '1 A'],
  dcr: ['1 ohm'],
  taper: ['linear'],
  speed: ['T'],
  breaking: ['L'],
  'gap-faces': ['0'],
  mounted: ['chassis'],
  'primary-dcr': ['1 ohm'],
  'secondary-dcr': ['1 ohm'],
  'primary-inductance': ['1 H'],
  'max-primary-current': ['1 A'],
  'max-current': ['1 A'],
  current: ['1 A'],
  reverse: ['1 V'],
  controls: [null],
  'ready-after': [null],
  lamp: [null],
  'repeat-after': [null],
  'stop-above': [null],
  'stop-below': [null],
  within: ['1 %'],
  picture: [null],
};

/**
 * Tries to read an item in spite of its mistakes: unknown keys left out, harmless wrong values stood in for.
 *
 * @param schema The item's schema.
 * @param raw The item as written; it is not changed.
 * @param issues What zod found in it.
 * @returns The item, or null where a mistake touches what the item does.
 */
export function salvage<Written>(
  schema: z.ZodType<Written>,
  raw: unknown,
  issues: readonly Issue[],
): Written | null {
  const repaired = issues.reduce<unknown>(
    (value, issue) => (value === null ? null : repair(value, issue)),
    raw,
  );
  if (repaired === null) return null;
  return tryStandIns(
    schema,
    repaired,
    issues.filter(({ code }) => code !== 'unrecognized_keys'),
    0,
  );
}

function tryStandIns<Written>(
  schema: z.ZodType<Written>,
  value: unknown,
  issues: readonly Issue[],
  choice: number,
): Written | null {
  let filled = value;
  for (const issue of issues) {
    const at = keyIndex(issue);
    if (at === null) return null;
    const choices = standIns[String(issue.path[at])] ?? [];
    const standIn = choices[Math.min(choice, choices.length - 1)];
    filled = withValue(filled, issue.path.slice(0, at + 1), standIn ?? undefined);
  }
  const parsed = schema.safeParse(filled);
  if (parsed.success) return parsed.data;
  return choice < 3 ? tryStandIns(schema, value, issues, choice + 1) : null;
}

/** The innermost key of the issue's path that has a stand-in. */
function keyIndex(issue: Issue): number | null {
  const at = issue.path.findLastIndex((key) => typeof key === 'string' && Object.hasOwn(standIns, key));
  return at < 0 ? null : at;
}

/** Takes unknown keys out; other issues are left for the stand-ins. */
function repair(value: unknown, issue: Issue): unknown {
  if (issue.code !== 'unrecognized_keys') return keyIndex(issue) === null ? null : value;
  return issue.keys.reduce<unknown>((left, key) => withValue(left, [...issue.path, key], undefined), value);
}

/** A copy with the value at a path replaced, or left out. */
function withValue(value: unknown, path: readonly PropertyKey[], next: string | undefined): unknown {
  const [key, ...rest] = path;
  if (key === undefined) return next;
  if (Array.isArray(value)) {
    return value.map((item: unknown, n) => (String(n) === String(key) ? withValue(item, rest, next) : item));
  }
  if (typeof value !== 'object' || value === null) return value;
  const table: Record<PropertyKey, unknown> = Object.assign(Object.create(null), value);
  if (rest.length > 0) table[key] = withValue(table[key], rest, next);
  else if (next === undefined) delete table[key];
  else table[key] = next;
  return table;
}
