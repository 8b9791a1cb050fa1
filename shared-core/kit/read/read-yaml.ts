import { Composer, Lexer, LineCounter, Parser, isMap, isScalar, isSeq, visit } from 'yaml';
import type { CST, Document, Pair, Scalar } from 'yaml';
import type { KitProblem } from '../../problem/problem.ts';
import { readPlainYaml } from './read-plain-yaml.ts';
import { wordOf } from './word-of.ts';
import type { YamlTree } from './yaml-tree.ts';

export interface YamlReading {
  readonly tree: YamlTree | null;
  readonly problems: readonly KitProblem[];
}

/** Largest kit file, in bytes; kit files come from strangers. */
export const LARGEST_FILE = 1_000_000;

/** Deepest nesting. Far below the 4,000 levels at which the YAML library can run out of stack. */
export const DEEPEST_NESTING = 64;

/** Prose, where a ` #` inside the text would be eaten as a comment. */
const proseKeys = new Set([
  'title',
  'do',
  'more',
  'about',
  'name',
  'maker',
  'marking',
  'inspect',
  'cautions',
]);
const cautionKeys = new Set(['danger', 'warning', 'caution', 'notice']);

/**
 * Reads YAML with every cap in place: size, depth, one document, no aliases, no tags.
 *
 * @param text The file's text.
 * @param file Its name, for the problems.
 */
export function readYaml(text: string, file: string): YamlReading {
  if (text.length > LARGEST_FILE) {
    const message = `The file has ${text.length} characters; a kit file has at most ${LARGEST_FILE}`;
    return refuse(file, 'kit/too-big', message, 'Move long texts and pictures out of the kit file.');
  }
  const plain = readPlainYaml(text);
  return plain ? { tree: plain, problems: [] } : readAnyYaml(text, file);
}

/** As `readYaml`, by the library alone: everything that YAML has, and the words for everything that is wrong. */
export function readAnyYaml(text: string, file: string): YamlReading {
  const lines = new LineCounter();
  const tokens = readTokens(text, lines);
  if (typeof tokens === 'number') {
    const message = `The file is nested more than ${DEEPEST_NESTING} levels deep`;
    const hint = 'Check for brackets that are never closed.';
    return refuse(file, 'kit/too-deep', message, hint, lineAndColumn(text, tokens));
  }
  const options = { lineCounter: lines, schema: 'failsafe', stringKeys: true, prettyErrors: false } as const;
  const [document, second] = new Composer(options).compose(tokens, true, text.length);
  if (!document) throw new Error('The YAML library gave no document');
  const at = (offset: number) => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(1, line), column: Math.max(1, col) };
  };
  const problems = [
    ...syntaxProblems(document, file, at),
    ...(second ? [secondDocument(file, at(second.range[0]))] : []),
    ...forbiddenProblems(document, file, at),
  ];
  if (problems.some(({ code }) => code !== 'kit/duplicate-id')) return { tree: null, problems };
  const walker = new TreeWalker(text, file, at);
  const root = walker.convert(document.contents, '');
  const { values, keys, reported } = walker;
  return { tree: { root, values, keys, reported }, problems: [...problems, ...walker.problems] };
}

function refuse(
  file: string,
  code: KitProblem['code'],
  message: string,
  hint: string,
  at: object = {},
): YamlReading {
  return { tree: null, problems: [{ code, severity: 'error', message, file, hint, ...at }] };
}

type Locate = (offset: number) => { line: number; column: number };

/**
 * The text's tokens, or the offset of the first lexeme beyond the deepest nesting.
 *
 * Nothing is composed before the whole text is known not to be too deep: the library's composer is recursive,
 * its parser is not.
 */
function readTokens(text: string, lines: LineCounter): readonly CST.Token[] | number {
  const parser = new Parser(lines.addNewLine);
  lines.addNewLine(0);
  const tokens: CST.Token[] = [];
  let offset = 0;
  for (const lexeme of new Lexer().lex(text)) {
    for (const token of parser.next(lexeme)) tokens.push(token);
    // A key and its value take two places on the parser's stack; brackets take one.
    if (parser.stack.length > DEEPEST_NESTING) return offset;
    offset += lexeme.length;
  }
  for (const token of parser.end()) tokens.push(token);
  return tokens;
}

function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  const before = text.slice(0, offset).split('\n');
  return { line: before.length, column: (before[before.length - 1]?.length ?? 0) + 1 };
}

function syntaxProblems(document: Document, file: string, at: Locate): KitProblem[] {
  return document.errors.map((error): KitProblem => {
    const position = { file, ...at(error.pos[0]) };
    if (error.code === 'DUPLICATE_KEY') {
      const message = 'This name is used twice in the same table';
      return {
        code: 'kit/duplicate-id',
        severity: 'error',
        message,
        ...position,
        hint: 'Rename one of the two.',
      };
    }
    const message = `The file is not well-formed YAML: ${error.message.split('\n')[0] ?? ''}`;
    const hint = 'Check indentation, brackets and quotes here and on the line before.';
    return { code: 'kit/yaml', severity: 'error', message, ...position, hint };
  });
}

function secondDocument(file: string, position: { line: number; column: number }): KitProblem {
  const message = 'A kit file is one document, but a second one begins';
  const hint = 'Remove the line "---".';
  return { code: 'kit/one-document', severity: 'error', message, file, ...position, hint };
}

/** Aliases, anchors and tags; only the first of each kind, as there may be thousands. */
function forbiddenProblems(document: Document, file: string, at: Locate): KitProblem[] {
  const found = new Map<string, KitProblem>();
  const note = (code: 'kit/alias' | 'kit/tag', offset: number, message: string, hint: string) => {
    if (!found.has(code)) found.set(code, { code, severity: 'error', message, file, ...at(offset), hint });
  };
  visit(document, {
    Alias(_, node) {
      const hint = 'Write the value out where it is used.';
      note('kit/alias', node.range?.[0] ?? 0, 'Aliases (*name) are not used in kit files', hint);
    },
    Node(_, node) {
      const offset = node.range?.[0] ?? 0;
      if ('anchor' in node && node.anchor) {
        const hint = 'Write the value out where it is used.';
        note('kit/alias', offset, 'Anchors (&name) are not used in kit files', hint);
      }
      if ('tag' in node && typeof node.tag === 'string') {
        note('kit/tag', offset, `Tags (${node.tag}) are not used in kit files`, 'Remove the tag.');
      }
    },
  });
  return [...found.values()];
}

/** Turns the document's nodes into plain values and notes where each stands. */
class TreeWalker {
  // Without a prototype, so that a key named __proto__ is a key like any other.
  readonly values: Record<string, readonly [number, number]> = Object.create(null);
  readonly keys: Record<string, readonly [number, number]> = Object.create(null);
  readonly reported = new Set<string>();
  readonly problems: KitProblem[] = [];
  readonly #text: string;
  readonly #file: string;
  readonly #at: Locate;

  constructor(text: string, file: string, at: Locate) {
    this.#text = text;
    this.#file = file;
    this.#at = at;
  }

  convert(node: unknown, path: string, isProse = false): unknown {
    if (isScalar(node)) return this.#convertScalar(node, path, isProse);
    if (isSeq(node)) {
      this.#mark(this.values, path, node.range?.[0]);
      return node.items.map((item, index) => this.convert(item, join(path, String(index)), isProse));
    }
    if (!isMap(node)) return undefined;
    this.#mark(this.values, path, node.range?.[0]);
    const table = Object.create(null) as Record<string, unknown>;
    let lastPath: string | null = null;
    for (const pair of node.items) {
      const next = this.#convertPair(pair as Pair, path, node.flow === true, lastPath, isProse, table);
      lastPath = next ?? lastPath;
    }
    return table;
  }

  #convertPair(
    pair: Pair,
    path: string,
    isFlow: boolean,
    lastPath: string | null,
    isProse: boolean,
    table: Record<string, unknown>,
  ): string | null {
    const key = isScalar(pair.key) ? wordOf(pair.key.value) : '';
    const here = join(path, key);
    const offset = isScalar(pair.key) ? pair.key.range?.[0] : undefined;
    if (isEmpty(pair.value)) {
      this.#reportEmpty(key, offset, isFlow && pair.value === null && lastPath !== null, lastPath, here);
      if (!/^\d/.test(key) || !isFlow) {
        this.#mark(this.keys, here, offset);
        this.reported.add(here);
        table[key] = undefined;
      }
      return null;
    }
    if (Object.hasOwn(table, key)) return null;
    this.#mark(this.keys, here, offset);
    const prose = proseKeys.has(key) || (isProse && cautionKeys.has(key));
    table[key] = this.convert(pair.value, here, prose);
    return here;
  }

  #reportEmpty(key: string, offset = 0, inBraces: boolean, lastPath: string | null, here: string): void {
    const position = { file: this.#file, ...this.#at(offset) };
    if (inBraces && /^\d/.test(key)) {
      if (lastPath !== null) this.reported.add(lastPath);
      const message = `"${key}" after a comma inside { } is a name without a value: a decimal comma cut the number in two`;
      const hint = 'Decimal comma: quote it ("6,3 V") or write it with a point or as 4k7.';
      this.problems.push({ code: 'kit/decimal-comma', severity: 'error', message, ...position, hint });
      return;
    }
    const message = `"${key}" has no value`;
    const hint = 'Give it a value or remove the line.';
    this.problems.push({ code: 'kit/empty-value', severity: 'error', message, ...position, hint });
    this.reported.add(here);
  }

  #convertScalar(node: Scalar, path: string, isProse: boolean): unknown {
    const [start = 0, end = 0] = node.range ?? [];
    this.#mark(this.values, path, start);
    if (isProse && node.type === 'PLAIN' && /^[ \t]+#/.test(this.#text.slice(end, end + 200))) {
      this.problems.push({
        code: 'kit/unquoted-comment',
        severity: 'error',
        message: 'The text ends at " #": what follows on the line is read as a comment',
        file: this.#file,
        ...this.#at(start),
        hint: 'Put the text in quotes, and the comment on a line of its own.',
      });
      this.reported.add(path);
    }
    return wordOf(node.value);
  }

  #mark(table: Record<string, readonly [number, number]>, path: string, offset: number | undefined): void {
    if (offset === undefined || Object.hasOwn(table, path)) return;
    const { line, column } = this.#at(offset);
    table[path] = [line, column];
  }
}

function isEmpty(value: unknown): boolean {
  if (value === null || value === undefined) return true;
  return isScalar(value) && value.type === 'PLAIN' && (value.value === '' || value.value === null);
}

function join(path: string, key: string): string {
  return path === '' ? key : `${path}.${key}`;
}
