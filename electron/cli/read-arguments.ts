import { parseArgs } from 'node:util';
import { didYouMean } from '../../shared-core/kit/did-you-mean.ts';
import type { KitProblem, Result } from '../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../shared-core/problem/problem.ts';
import type { Command, Given } from './command.ts';

/** Options that every command has. */
export const commonOptions = {
  json: { value: null, help: 'print JSON in SI units instead of text' },
  help: { value: null, help: 'print this help' },
} as const;

/** Reads what was typed after a command's name; every mistake at once. */
export function readArguments(command: Command, args: readonly string[]): Result<Given> {
  const options = { ...command.options, ...commonOptions };
  const { tokens } = parseArgs({
    args: [...args],
    options: Object.fromEntries(
      Object.entries(options).map(([name, { value }]) => [
        name,
        { type: value === null ? ('boolean' as const) : ('string' as const), multiple: true },
      ]),
    ),
    strict: false,
    tokens: true,
    allowPositionals: true,
  });
  const problems: KitProblem[] = [];
  const positionals: string[] = [];
  const values = new Map<string, string[]>();
  for (const token of tokens) {
    if (token.kind === 'positional') positionals.push(token.value);
    if (token.kind !== 'option') continue;
    const known = Object.hasOwn(options, token.name)
      ? options[token.name as keyof typeof options]
      : undefined;
    const problem = optionProblem(token.rawName, token.name, token.value, known, Object.keys(options));
    if (problem) problems.push(problem);
    else values.set(token.name, [...(values.get(token.name) ?? []), token.value ?? '']);
  }
  // What follows an unknown option may be its value: nothing is said about it.
  if (!values.has('help') && problems.length === 0)
    problems.push(...positionalProblems(command, positionals));
  const [first, ...rest] = problems;
  if (first) return fail(first, ...rest);
  return succeed({
    positionals,
    switches: new Set(values.keys()),
    value: (option) => values.get(option)?.at(-1),
    values: (option) => values.get(option) ?? [],
  });
}

function optionProblem(
  raw: string,
  name: string,
  value: string | undefined,
  known: { readonly value: string | null } | undefined,
  names: readonly string[],
): KitProblem | null {
  if (!known) {
    const hint = didYouMean(
      `--${name}`,
      names.map((each) => `--${each}`),
    );
    return { code: 'command/unknown-option', severity: 'error', message: `There is no option ${raw}`, hint };
  }
  if (known.value !== null && (value === undefined || value === '')) {
    const hint = `Write ${raw} ${known.value}.`;
    return { code: 'command/missing', severity: 'error', message: `${raw} needs a value`, hint };
  }
  if (known.value === null && value !== undefined) {
    const hint = `Write ${raw} alone.`;
    return { code: 'command/too-much', severity: 'error', message: `${raw} takes no value`, hint };
  }
  return null;
}

function positionalProblems(command: Command, positionals: readonly string[]): KitProblem[] {
  const usage = `Write kitwright ${[command.name, ...command.positionals].join(' ')}.`;
  const missing = command.positionals.slice(positionals.length);
  const extra = command.repeatsLast === true ? [] : positionals.slice(command.positionals.length);
  const problems: KitProblem[] = [];
  if (missing.length > 0) {
    const message = `${missing.join(' and ')} ${missing.length > 1 ? 'are' : 'is'} missing`;
    problems.push({ code: 'command/missing', severity: 'error', message, hint: usage });
  }
  if (extra.length > 0) {
    const message = `"${extra.join(' ')}" is one thing too many`;
    problems.push({ code: 'command/too-much', severity: 'error', message, hint: usage });
  }
  return problems;
}
