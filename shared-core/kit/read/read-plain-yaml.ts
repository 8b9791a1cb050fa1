import type { YamlTree } from './yaml-tree.ts';

/** Printable, without tabs, carriage returns, byte order marks and halves of pairs. */
const plainText = /^[\n\x20-\x7e\u00a0-\u2027\u202a-\ud7ff\ue000-\ufefe]*$/;
/** A name and its colon. Short: YAML allows no more than 1024 characters. */
const nameAtStart = /^([A-Za-z0-9][A-Za-z0-9_.-]{0,99}):(?= |$)/;
/** What begins a text without quotes; a minus sign only before a number. */
const textAtStart = /^(?:[A-Za-z0-9(+.<=/~$^;_\u00a1-\ufefe]|-[0-9.])/;
/** Kits nest five or six deep. */
const deepest = 16;

interface Line {
  /** Blanks before its text, counted from the line's own beginning. */
  readonly indent: number;
  readonly text: string;
  /** Counted from 1. */
  readonly number: number;
}

/**
 * Reads the YAML that kit files are written in, in a tenth of the time of the library; null where a text needs
 * more, or has a mistake: the library then reads it, and words the problem.
 *
 * Taken are: names with values; lists with `- `; `{ }` and `[ ]` on one line; texts on one line, plain or in
 * double quotes without a backslash; lines of comment. Everything else is left: comments behind a value, other
 * quotes, texts over several lines, empty values, names given twice, tabs, anchors, tags. What is taken comes
 * out as from the library, positions included.
 */
export function readPlainYaml(text: string): YamlTree | null {
  return plainText.test(text) ? new PlainReader(text).read() : null;
}

class PlainReader {
  readonly #values: Record<string, readonly [number, number]> = Object.create(null);
  readonly #keys: Record<string, readonly [number, number]> = Object.create(null);
  readonly #lines: Line[] = [];
  #next = 0;
  /** Set for good by the first thing that is not plain; no line is left after it, and every loop ends. */
  #isLeft = false;

  constructor(text: string) {
    text.split('\n').forEach((whole, index) => {
      const indent = skipBlanks(whole, 0);
      const content = whole.slice(indent);
      if (content === '' || content.startsWith('#')) return;
      if (content.endsWith(' ')) this.#leave();
      this.#lines.push({ indent, text: content, number: index + 1 });
    });
  }

  read(): YamlTree | null {
    if (this.#lines[0]?.indent !== 0) return null;
    const root = this.#readBlock('', 0, 0);
    if (this.#isLeft || this.#next < this.#lines.length) return null;
    return { root, values: this.#values, keys: this.#keys, reported: new Set() };
  }

  #leave(): void {
    this.#isLeft = true;
    this.#next = this.#lines.length;
  }

  /** A table or list whose lines all begin at one column. */
  #readBlock(path: string, indent: number, depth: number): unknown {
    const line = this.#lines[this.#next];
    if (!line || depth > deepest) return this.#leave();
    mark(this.#values, path, line.number, indent);
    return line.text.startsWith('- ')
      ? this.#readList(path, indent, depth)
      : this.#readTable(path, indent, depth);
  }

  #readTable(path: string, indent: number, depth: number): unknown {
    const table = Object.create(null) as Record<string, unknown>;
    for (let line = this.#at(indent); line; line = this.#at(indent)) {
      const name = nameAtStart.exec(line.text)?.[1];
      if (name === undefined || name in table) return this.#leave();
      const here = join(path, name);
      mark(this.#keys, here, line.number, indent);
      const after = name.length + 1;
      if (line.text.length > after) {
        table[name] = this.#readWhole(line, after + 1, here, depth + 1);
        this.#next++;
        this.#refuseDeeper(indent);
      } else {
        this.#next++;
        const below = this.#lines[this.#next];
        // Without a value, or with a list that is not indented.
        if (!below || below.indent <= indent) return this.#leave();
        table[name] = this.#readBlock(here, below.indent, depth + 1);
      }
    }
    return table;
  }

  #readList(path: string, indent: number, depth: number): unknown {
    const list: unknown[] = [];
    for (let line = this.#at(indent); line; line = this.#at(indent)) {
      if (!line.text.startsWith('- ')) return this.#leave();
      const here = join(path, String(list.length));
      if (nameAtStart.test(line.text.slice(2))) {
        // A table that begins on the line of its stroke: its first line is what stands behind it.
        this.#lines[this.#next] = { ...line, indent: indent + 2, text: line.text.slice(2) };
        list.push(this.#readBlock(here, indent + 2, depth + 1));
      } else {
        list.push(this.#readWhole(line, 2, here, depth + 1));
        this.#next++;
        this.#refuseDeeper(indent);
      }
    }
    return list;
  }

  /** The next line where it belongs to a block at this column; undefined where the block has ended. */
  #at(indent: number): Line | undefined {
    const line = this.#lines[this.#next];
    if (line && line.indent > indent) this.#leave();
    return line?.indent === indent ? line : undefined;
  }

  /** A value on its line goes on where the next line is deeper. */
  #refuseDeeper(indent: number): void {
    if ((this.#lines[this.#next]?.indent ?? 0) > indent) this.#leave();
  }

  /** A value that takes the rest of its line. */
  #readWhole(line: Line, at: number, path: string, depth: number): unknown {
    const first = line.text[at];
    if (first === '{' || first === '[' || first === '"') {
      const [value, end] = this.#readValue(line, at, path, depth);
      if (end !== line.text.length) this.#leave();
      return value;
    }
    mark(this.#values, path, line.number, line.indent + at);
    return this.#plainWord(line.text.slice(at));
  }

  /** A value inside brackets, or one that has ends of its own; gives where it ends. */
  #readValue(line: Line, at: number, path: string, depth: number): readonly [unknown, number] {
    const { text } = line;
    const first = text[at];
    if (depth > deepest) this.#leave();
    if (this.#isLeft) return [undefined, text.length];
    mark(this.#values, path, line.number, line.indent + at);
    if (first === '{') return this.#readBraces(line, at, path, depth);
    if (first === '[') return this.#readBrackets(line, at, path, depth);
    if (first === '"') {
      const end = text.indexOf('"', at + 1);
      const word = text.slice(at + 1, end);
      if (end < 0 || word.includes('\\')) this.#leave();
      return [word, end + 1];
    }
    let end = at;
    while (end < text.length && !',[]{}'.includes(text[end]!)) end++;
    while (text[end - 1] === ' ') end--;
    return [this.#plainWord(text.slice(at, end)), end];
  }

  #readBraces(line: Line, from: number, path: string, depth: number): readonly [unknown, number] {
    const { text } = line;
    const table = Object.create(null) as Record<string, unknown>;
    let at = skipBlanks(text, from + 1);
    while (text[at] !== '}' && !this.#isLeft) {
      const name = nameAtStart.exec(text.slice(at, at + 110))?.[1];
      if (name === undefined || name in table) {
        this.#leave();
        break;
      }
      const here = join(path, name);
      mark(this.#keys, here, line.number, line.indent + at);
      const [value, end] = this.#readValue(line, skipBlanks(text, at + name.length + 1), here, depth + 1);
      table[name] = value;
      at = this.#nextItem(text, end, '}');
    }
    return [table, at + 1];
  }

  #readBrackets(line: Line, from: number, path: string, depth: number): readonly [unknown, number] {
    const { text } = line;
    const list: unknown[] = [];
    let at = skipBlanks(text, from + 1);
    while (text[at] !== ']' && !this.#isLeft) {
      const [value, end] = this.#readValue(line, at, join(path, String(list.length)), depth + 1);
      list.push(value);
      at = this.#nextItem(text, end, ']');
    }
    return [list, at + 1];
  }

  /** Where the next item begins, or the bracket that closes; a comma before that bracket is left to the library. */
  #nextItem(text: string, end: number, close: string): number {
    const at = skipBlanks(text, end);
    if (text[at] === close) return at;
    const next = skipBlanks(text, at + 1);
    if (text[at] !== ',' || text[next] === close) this.#leave();
    return next;
  }

  /** A text without quotes, in which nothing has a meaning of its own. */
  #plainWord(word: string): string {
    if (!textAtStart.test(word) || word.endsWith(':') || word.includes(': ') || word.includes(' #')) {
      this.#leave();
    }
    return word;
  }
}

function skipBlanks(text: string, from: number): number {
  let at = from;
  while (text[at] === ' ') at++;
  return at;
}

function mark(
  table: Record<string, readonly [number, number]>,
  path: string,
  line: number,
  offset: number,
): void {
  if (!(path in table)) table[path] = [line, offset + 1];
}

function join(path: string, name: string): string {
  return path === '' ? name : `${path}.${name}`;
}
