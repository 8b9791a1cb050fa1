/**
 * Closes a `switch` over a union: a case left out fails to compile.
 *
 * @param value What should not exist.
 * @throws Error always: reaching it is our bug.
 */
export function assertNever(value: never): never {
  throw new Error(`Unhandled case: ${JSON.stringify(value)}`);
}
