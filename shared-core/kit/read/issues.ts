import type { z } from 'zod';
import type { ProblemCode } from '../../problem/problem-codes.ts';
import { didYouMean } from '../did-you-mean.ts';
import type { Finding } from '../draft.ts';
import { wordOf } from './word-of.ts';

type Issue = z.core.$ZodIssue;

/**
 * Turns what zod found into findings of ours, each with a path, a code and a hint.
 *
 * @param issues What zod found in one item.
 * @param base Path of the item in the file.
 * @param knownKeys Keys that the item may have, for "did you mean".
 */
export function findingsOf(issues: readonly Issue[], base: string, knownKeys: readonly string[]): Finding[] {
  return issues.flatMap((issue) => findingOf(issue, base, knownKeys));
}

function findingOf(issue: Issue, base: string, knownKeys: readonly string[]): Finding[] {
  const path = [base, ...issue.path.map(String)].filter((part) => part !== '').join('.');
  const name = String(issue.path[issue.path.length - 1] ?? base.slice(base.lastIndexOf('.') + 1));
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        code: 'kit/unknown-key',
        path: `${path}.${key}`,
        message: `Unknown key "${key}"`,
        hint: issue.path.length === 0 ? didYouMean(key, knownKeys) : 'Remove it or correct its spelling.',
        atKey: true,
      }));
    case 'invalid_value': {
      const allowed = issue.values.map(String);
      if (issue.input === undefined) return [missing(path, name)];
      if (name === 'measure' && /amp|current|\bm?A\b/i.test(wordOf(issue.input))) return [ammeter(path)];
      const message = `"${name}" is "${wordOf(issue.input)}"; expected ${allowed.join(', ')}`;
      return [{ code: 'kit/not-a-choice', path, message, hint: didYouMean(wordOf(issue.input), allowed) }];
    }
    case 'invalid_union':
      return fromUnion(issue, path, name, knownKeys);
    case 'invalid_type':
      if (issue.input === undefined) return [missing(path, name)];
      return [wrongShape(path, `"${name}" should be ${nounOf(issue.expected)}`)];
    case 'custom': {
      const { problem, hint } = (issue.params ?? {}) as { problem?: ProblemCode; hint?: string };
      return [{ code: problem ?? 'kit/wrong-shape', path, message: issue.message, hint: hint ?? '' }];
    }
    case 'invalid_format': {
      const message = `"${name}" is "${wordOf(issue.input)}", which is not a name of this kind`;
      return [{ code: 'kit/bad-id', path, message, hint: 'Use small letters, digits and hyphens.' }];
    }
    default:
      return [wrongShape(path, `"${name}": ${issue.message}`)];
  }
}

/** An ammeter in a high-tension path has to be wired in, and its open lead then carries the whole voltage. */
function ammeter(path: string): Finding {
  const message = 'DANGER: a current is to be measured with an ammeter in the circuit';
  const hint = 'Measure the voltage across a resistor that is already there, and compute the current.';
  return { code: 'kit/danger-ammeter', path, message, hint };
}

function missing(path: string, name: string): Finding {
  const message = `"${name}" is missing`;
  return { code: 'kit/missing-key', path, message, hint: `Add "${name}:" here.`, atKey: true };
}

function wrongShape(path: string, message: string): Finding {
  return { code: 'kit/wrong-shape', path, message, hint: 'See kits/kit.schema.json for what goes here.' };
}

/** Takes the branch that was meant: the one that got past the first look at the type. */
function fromUnion(
  issue: Extract<Issue, { code: 'invalid_union' }>,
  path: string,
  name: string,
  knownKeys: readonly string[],
): Finding[] {
  if (issue.input === undefined) return [missing(path, name)];
  const meant = issue.errors.find((branch) =>
    branch.some(
      ({ code, path: at }) => at.length > 0 || (code !== 'invalid_type' && code !== 'invalid_value'),
    ),
  );
  if (meant) return findingsOf(meant, path, knownKeys);
  return [wrongShape(path, `"${name}" has the wrong shape`)];
}

function nounOf(expected: string): string {
  const nouns: Record<string, string> = {
    object: 'a table of names and values',
    record: 'a table of names and values',
    array: 'a list in [ ]',
    tuple: 'a list in [ ]',
    string: 'a text',
    number: 'a number',
  };
  return nouns[expected] ?? expected;
}
