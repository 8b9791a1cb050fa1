import type { KitProblem, Result } from '../problem/problem.ts';
import { fail, succeed } from '../problem/problem.ts';
import type { Finding, KitDraft } from './draft.ts';
import type { Kit } from './kit.ts';
import { checkReferences } from './checks/references.ts';
import { SectionReader } from './read/read-sections.ts';
import { readYaml } from './read/read-yaml.ts';
import { wordOf } from './read/word-of.ts';
import { positionOf } from './source.ts';
import type { KitSource } from './source.ts';

/** The format that this version writes and reads. */
export const KIT_FORMAT = 'kitwright/1';

/** A kit and where everything stands in its file. */
export interface KitFile {
  readonly kit: Kit;
  readonly source: KitSource;
}

/** A kit read as far as it goes, with what was wrong on the way. */
export interface DraftReading {
  readonly draft: KitDraft | null;
  readonly problems: readonly KitProblem[];
  /** Top keys of the file below which names point at nothing: what is connected or done is not known. */
  readonly unsound: ReadonlySet<string>;
}

/**
 * Reads a kit file: caps, YAML, shape and references, every problem at once.
 *
 * It does not look for dangers: that is `checkKit`.
 *
 * @param text The file's text.
 * @param file Its name as problems should show it.
 */
export function readKit(text: string, file: string): Result<Kit> {
  const result = readKitFile(text, file);
  return result.ok ? succeed(result.value.kit, result.warnings) : result;
}

/** As `readKit`, with the positions kept for checks that come later. */
export function readKitFile(text: string, file: string): Result<KitFile> {
  const { draft, problems } = readDraft(text, file);
  const warnings = problems.filter(({ severity }) => severity === 'warning');
  const [first, ...rest] = problems.filter(({ severity }) => severity === 'error');
  if (first) return fail(first, ...rest);
  if (!draft) throw new Error('A kit that could not be read must have a problem');
  return succeed({ kit: draft.kit, source: draft.source }, warnings);
}

/** Reads as far as possible: shape first, then references over all that is well-formed. */
export function readDraft(text: string, file: string): DraftReading {
  const { tree, problems } = readYaml(text, file);
  const nothing = { draft: null, unsound: new Set<string>() };
  if (!tree) return { ...nothing, problems };
  const refusal = checkFormat(tree.root, file, tree.values['format']);
  if (refusal?.code === 'kit/format-newer') return { ...nothing, problems: [refusal] };
  const reader = new SectionReader(tree);
  const draft = reader.read(file);
  const references = checkReferences(draft);
  const findings = [...reader.findings, ...references];
  const all = [...problems, ...(refusal ? [refusal] : []), ...toProblems(findings, draft.source)];
  const unsound = new Set(references.filter(isUnsettling).map(({ path }) => path.split('.')[0] ?? ''));
  return { draft, problems: inFileOrder(all), unsound };
}

/** Adds file, line and column to findings. */
export function toProblems(findings: readonly Finding[], source: KitSource): KitProblem[] {
  return findings.map(({ code, path, message, hint, atKey, severity = 'error' }) => {
    return { code, severity, message, ...positionOf(source, path, atKey ? 'key' : 'value'), hint };
  });
}

/** Sorts by line and column. */
export function inFileOrder(problems: readonly KitProblem[]): KitProblem[] {
  return [...problems].sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0));
}

/** A mistyped part in a step's list leaves the order of the steps known; a mistyped condition does not. */
function isUnsettling({ code, path }: Finding): boolean {
  return !(path.startsWith('chapters.') && (code === 'kit/unknown-part' || code === 'kit/unknown-lead'));
}

function checkFormat(
  root: unknown,
  file: string,
  at: readonly [number, number] | undefined,
): KitProblem | null {
  const head = typeof root === 'object' && root !== null ? (root as Record<string, unknown>) : { format: '' };
  const format = wordOf(head['format']);
  if (format === KIT_FORMAT || head['format'] === undefined) return null;
  const position = { file, ...(at ? { line: at[0], column: at[1] } : { line: 1, column: 1 }) };
  const newer = /^kitwright\/(\d+)$/.exec(format);
  if (newer && Number(newer[1]) > 1) {
    const message = `The file is in format ${format}; this version reads ${KIT_FORMAT}`;
    const hint = 'Use a newer version of Kitwright for this kit.';
    return { code: 'kit/format-newer', severity: 'error', message, ...position, hint };
  }
  const message = `This is not a kit file: expected "format: ${KIT_FORMAT}" at its top`;
  const hint = `Begin the file with "format: ${KIT_FORMAT}".`;
  return { code: 'kit/format', severity: 'error', message, ...position, hint };
}
