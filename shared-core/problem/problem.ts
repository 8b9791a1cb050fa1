import type { ProblemCode } from './problem-codes.ts';

/**
 * A mistake that a builder or a kit's designer can make, as data.
 *
 * Never thrown: a thrown error loses its fields on the way to another process.
 */
export interface KitProblem {
  /** Stable name of the mistake, `area/what`, from the closed union in `problem-codes.ts`. */
  readonly code: ProblemCode;
  readonly severity: 'error' | 'warning';
  /** What is wrong, with what was expected and what was received. */
  readonly message: string;
  readonly file?: string;
  /** Line in the file, counted from 1. */
  readonly line?: number;
  /** Column in the line, counted from 1. */
  readonly column?: number;
  /** What to do next. */
  readonly hint?: string;
}

/** One problem or more. */
export type Problems = readonly [KitProblem, ...KitProblem[]];

/** The outcome of a check that collects every problem before it answers. */
export type Result<Value> =
  | { readonly ok: true; readonly value: Value; readonly warnings: readonly KitProblem[] }
  | { readonly ok: false; readonly problems: Problems };

/** A good outcome, with the warnings met on the way. */
export function succeed<Value>(value: Value, warnings: readonly KitProblem[] = []): Result<Value> {
  return { ok: true, value, warnings };
}

/** A bad outcome. */
export function fail(first: KitProblem, ...rest: KitProblem[]): Result<never> {
  return { ok: false, problems: [first, ...rest] };
}
