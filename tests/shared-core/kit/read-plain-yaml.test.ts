import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readPlainYaml } from '../../../shared-core/kit/read/read-plain-yaml.ts';
import { readAnyYaml } from '../../../shared-core/kit/read/read-yaml.ts';

const kits = ['heron', 'wren', 'curlew'].map((id) =>
  readFileSync(new URL(`../../../kits/${id}/kit.yaml`, import.meta.url), 'utf8'),
);

/** Either the text is left to the library, or it comes out as from the library and nothing is wrong with it. */
function isAsFromLibrary(text: string): boolean {
  const plain = readPlainYaml(text);
  if (plain === null) return false;
  expect({ tree: plain, problems: [] }, text).toEqual(readAnyYaml(text, 'kit.yaml'));
  return true;
}

describe('the plain YAML of kit files', () => {
  it('is what the kits are written in, and comes out as from the library', () => {
    for (const text of kits) expect(isAsFromLibrary(text)).toBe(true);
  });

  it.each([
    ['texts, numbers and names', 'a: b c\n1st: -3.3 V\nx.y-z_1: (4k7)\nw: a:b # c\n'.replace(' # c', '')],
    [
      'tables in lists in tables',
      'a:\n  - b: 1\n    c:\n      - 2\n      - 3\n  - { d: [4, { e: "f, g" }] }\nh: i\n',
    ],
    ['empty brackets and blanks in them', 'a: {}\nb: [ ]\nc: [ 1 , 2 ]\nd: {  e:  f  }\n'],
    ['quotes', 'a: "b: # c"\nd: ["e", "", " f "]\n'],
    ['comments between, however far in', '# a\nb: 1\n      # c\nd:\n# e\n  f: 2\n'],
    ['a path that two names come to', 'a.b: 1\na:\n  b: 2\n'],
    ['letters beyond ASCII', 'a: 4,7 kΩ ±5 %\nb: "é"\nc: [µ, Ω]\n'],
  ])('reads %s', (_, text) => {
    expect(isAsFromLibrary(text)).toBe(true);
  });

  it.each([
    ['nothing', ''],
    ['a comment behind a value', 'a: b # c\n'],
    ['a comment behind quotes', 'a: "b" # c\n'],
    ['a name without a value', 'a:\nb: 1\n'],
    ['a list that is not indented', 'a:\n- 1\n'],
    ['a text over two lines', 'a: b\n  c\nd: 1\n'],
    ['brackets over two lines', 'a: [1,\n  2]\n'],
    ['a name given twice', 'a: 1\na: 2\n'],
    ['a name given twice in braces', 'a: { b: 1, b: 2 }\n'],
    ['single quotes', "a: 'b'\n"],
    ['a backslash in quotes', 'a: "b\\n"\n'],
    ['quotes as a name', '"a": b\n'],
    ['an anchor, an alias and a tag', 'a: &b 1\nc: *b\nd: !e f\n'],
    ['a block of text', 'a: |\n  b\n'],
    ['a second document', 'a: 1\n---\nb: 2\n'],
    ['a tab', 'a:\tb\n'],
    ['a decimal comma in braces', 'a: { b: 6,3 V }\n'],
    ['a comma before the end', 'a: [1, ]\n'],
    ['a table where a text began', 'a: b: c\n'],
    ['lines that step back to no column', 'a:\n    b: 1\n  c: 2\n'],
    ['a name of the language', '__proto__: 1\n'],
    ['blanks of another kind before a name', 'a:\n\u00a0 b: 1\n'],
    ['brackets sixty deep', `a: ${'['.repeat(60)}${']'.repeat(60)}\n`],
  ])('leaves %s to the library', (_, text) => {
    expect(readPlainYaml(text)).toBeNull();
  });

  it('agrees with the library on kits with a few letters changed', () => {
    const letters = fc.constantFrom(
      ...Array.from(' \n:,-#{}[]"\'\\&*!|>%@`?~.=<0aZ\t\u00a0Ω'),
      '\n  ',
      ': ',
      '- ',
      ' #',
      '---\n',
    );
    const change = fc.record({
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      cut: fc.nat(3),
      put: letters,
    });
    let taken = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...kits),
        fc.nat(1e6),
        fc.array(change, { minLength: 1, maxLength: 3 }),
        (kit, from, changes) => {
          // Some forty lines of a kit from a line that begins a section: short texts are many texts.
          const lines = kit.split('\n');
          const starts = lines.flatMap((line, index) => (/^[a-z]/.test(line) ? [index] : []));
          const start = starts[from % starts.length]!;
          let text = lines.slice(start, start + 40).join('\n');
          for (const { at, cut, put } of changes) {
            const place = Math.floor(at * text.length);
            text = text.slice(0, place) + put + text.slice(place + cut);
          }
          if (isAsFromLibrary(text)) taken++;
        },
      ),
      { numRuns: 1000, seed: 7 },
    );
    // So that agreement is not agreement about nothing.
    expect(taken).toBeGreaterThan(50);
  });
});
