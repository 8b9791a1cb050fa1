import { resolve } from 'node:path';
import { allChoices, chooseKit, countCombinations } from '../../../shared-core/kit/choose-kit.ts';
import type { Kit } from '../../../shared-core/kit/kit.ts';
import { formatProblems } from '../../../shared-core/problem/format-problem.ts';
import { inFileOrder } from '../../../shared-core/kit/read-kit.ts';
import { checkElectricity } from '../../../shared-core/prediction/check-electricity.ts';
import type { KitProblem, Result } from '../../../shared-core/problem/problem.ts';
import { fail, succeed } from '../../../shared-core/problem/problem.ts';
import { openCheckedKit } from '../../services/open-kit.ts';
import type { KitOnDisk } from '../../services/open-kit.ts';
import { kitPathAsGiven } from '../kit-path.ts';
import type { Command, CommandOutcome } from '../command.ts';

/** `kitwright check KIT`: everything wrong with a kit, at once. */
export const checkCommand: Command = {
  name: 'check',
  summary: 'Say everything that is wrong with a kit, each with file, line and hint',
  positionals: ['KIT'],
  options: {},
  examples: ['kitwright check kits/heron'],
  run: async ({ positionals: [path = ''] }, io) => {
    const kit = await openCheckedKit(resolve(io.cwd, path));
    return describe(
      kitPathAsGiven(path, io),
      kit.ok ? withElectricity(kit.value, kit.warnings) : kit,
      io.cwd,
    );
  },
};

/** Adds what only the computed circuit shows, for every combination of options. */
function withElectricity(kit: KitOnDisk, warnings: readonly KitProblem[]): Result<KitOnDisk> {
  const found = new Map<string, KitProblem>();
  for (const choices of allChoices(kit.kit)) {
    const chosen = chooseKit(kit.kit, choices);
    if (!chosen.ok) continue;
    for (const problem of checkElectricity(chosen.value, kit.source)) {
      const { code, line, column, message } = problem;
      found.set([code, line, column, message].join('\n'), problem);
    }
  }
  const all = inFileOrder([...warnings, ...found.values()]);
  const [first, ...rest] = all.filter(({ severity }) => severity === 'error');
  if (!first) return succeed(kit, all);
  return fail(first, ...rest, ...all.filter(({ severity }) => severity === 'warning'));
}

function describe(path: string, result: Result<KitOnDisk>, cwd: string): CommandOutcome {
  const problems = (result.ok ? result.warnings : result.problems).map((problem) => shorten(problem, cwd));
  const errors = problems.filter(({ severity }) => severity === 'error').length;
  if (!result.ok && problems.some(({ code }) => code.startsWith('file/'))) {
    return { kind: 'could-not', problems: result.problems };
  }
  const kit = result.ok ? result.value.kit : null;
  const hash = result.ok ? result.value.folder.hash : null;
  const json = {
    format: 'kitwright-check/1',
    kit: kit?.id ?? null,
    revision: kit?.revision ?? null,
    hash,
    problems,
  };
  const end = errors > 0 ? countOf(problems) : praise(kit, problems);
  const text = [...(problems.length > 0 ? [formatProblems(problems)] : []), `${path}: ${end}`].join('\n\n');
  return { kind: 'answer', json, text, hasFindings: errors > 0 };
}

/** Problems name the file as the terminal's folder sees it, so that it can be clicked. */
function shorten(problem: KitProblem, cwd: string): KitProblem {
  return problem.file === undefined ? problem : { ...problem, file: kitPathAsGiven(problem.file, { cwd }) };
}

function countOf(problems: readonly KitProblem[]): string {
  const errors = problems.filter(({ severity }) => severity === 'error').length;
  const warnings = problems.length - errors;
  return [count(errors, 'error'), ...(warnings > 0 ? [count(warnings, 'warning')] : [])].join(', ');
}

function praise(kit: Kit | null, warnings: readonly KitProblem[]): string {
  if (!kit) return 'nothing wrong';
  const wrong = warnings.length === 0 ? 'nothing wrong' : count(warnings.length, 'warning');
  const steps = kit.chapters.reduce((sum, chapter) => sum + distinct(chapter.steps), 0);
  const contents = [
    count(distinct(kit.parts), 'part'),
    count(distinct(kit.leads), 'lead'),
    count(distinct(kit.conditions), 'condition'),
    count(distinct(kit.readings), 'reading'),
    `${count(steps, 'step')} in ${count(kit.chapters.length, 'chapter')}`,
  ];
  const combinations = countCombinations(kit);
  const every = combinations > 1 ? `, each of ${combinations} combinations of options looked at` : '';
  return `${wrong}${every}.\n${kit.name}, revision ${kit.revision}: ${contents.join(', ')}.`;
}

function distinct(items: readonly { readonly id: string }[]): number {
  return new Set(items.map(({ id }) => id)).size;
}

function count(number: number, what: string): string {
  return `${number} ${what}${number === 1 ? '' : 's'}`;
}
