import type { KitProblem } from './problem.ts';

/**
 * A problem as text: `kit.yaml:8:12 error: …`, with its hint on the next line.
 *
 * The first line is in the form that editors and terminals make clickable.
 */
export function formatProblem(problem: Omit<KitProblem, 'code'>): string {
  const { file, line, column, severity, message, hint } = problem;
  const place = [file, line, column].filter((part) => part !== undefined).join(':');
  const first = `${place === '' ? '' : `${place} `}${severity}: ${message}`;
  return hint === undefined || hint === '' ? first : `${first}\n    ${hint}`;
}

/** Several problems, a blank line between any two. */
export function formatProblems(problems: readonly Omit<KitProblem, 'code'>[]): string {
  return problems.map(formatProblem).join('\n\n');
}
