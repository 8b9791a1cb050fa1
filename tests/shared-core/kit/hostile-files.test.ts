import fc from 'fast-check';
import { expect, test } from 'vitest';
import { checkKit } from '../../../shared-core/kit/check-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { smallKit, smallKitFiles } from '../../fixtures/kits/patch.ts';

function bomb(levels: number): string {
  const lines = ['a0: &a0 [x, x, x, x, x, x, x, x, x]'];
  for (let n = 1; n < levels; n += 1) {
    const last = `*a${n - 1}`;
    lines.push(`a${n}: &a${n} [${Array(9).fill(last).join(', ')}]`);
  }
  return `format: kitwright/1\n${lines.join('\n')}\n`;
}

const flows = Array.from({ length: 5000 }, (_, n) => `  k${n}: { a: [1, 2], b: 3 }`).join('\n');

test.each([
  ['40 kB of [', '['.repeat(40_000), 'kit/too-deep'],
  ['40 kB of {', '{'.repeat(40_000), 'kit/too-deep'],
  ['dashes nested 4,000 deep', '- '.repeat(4000), 'kit/too-deep'],
  ['an alias bomb', bomb(30), 'kit/alias'],
  ['two megabytes', 'x'.repeat(2_000_000), 'kit/too-big'],
])('refuses %s with one clear problem, in under a second', (what, text, code) => {
  const before = performance.now();
  const result = checkKit(text, 'kit.yaml', null);
  const elapsed = performance.now() - before;
  console.log(`${what}: refused in ${elapsed.toFixed(0)} ms`);
  if (result.ok) throw new Error('the file was accepted');
  expect(result.problems.map((problem) => problem.code)).toEqual([code]);
  expect(result.problems[0].hint).toBeTruthy();
  // Generous: the figure printed is a few milliseconds.
  expect(elapsed).toBeLessThan(1000);
});

test('reports each of five thousand unknown parts without giving up', () => {
  const result = checkKit(`format: kitwright/1\nparts:\n${flows}\n`, 'kit.yaml', null);
  expect(!result.ok && result.problems.length).toBeGreaterThan(5000);
});

test('takes names of built-in properties as names and nothing else', () => {
  const text = smallKit
    .replace('  b1: TS1.1', '  b1: TS1.1\n  constructor: V2.3\n  __proto__: V1.2')
    .replace('title: "B1", at: b1', 'title: "B1", at: toString');
  const result = checkKit(text, 'kit.yaml', smallKitFiles);
  if (result.ok) throw new Error('the kit was accepted');
  expect(result.problems.map(({ code }) => code)).toContain('kit/unknown-net');
  expect(Object.hasOwn(Object.prototype, 'V1.2')).toBe(false);
});

test('answers any text with a result and never throws', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 300 }), (text) => {
      const result = readKit(text, 'kit.yaml');
      expect(result.ok || result.problems.length > 0).toBe(true);
    }),
    { numRuns: 300 },
  );
});

const yamlish = fc.array(
  fc.constantFrom(
    'a',
    ':',
    ' ',
    '\n',
    '  ',
    '- ',
    '{',
    '}',
    '[',
    ']',
    ',',
    '"',
    '#',
    '&x',
    '*x',
    '!t',
    '|',
    '>',
    '---\n',
    'parts:\n',
    'kind: resistor',
    '\t',
    '? ',
    'null',
    "'",
  ),
  {
    maxLength: 60,
  },
);

test('answers anything that looks like YAML with a result and never throws', () => {
  fc.assert(
    fc.property(yamlish, (pieces) => {
      const result = checkKit(`format: kitwright/1\n${pieces.join('')}`, 'kit.yaml', []);
      expect(result.ok).toBe(false);
    }),
    { numRuns: 500 },
  );
});

const lines = smallKit.split('\n');
const at = fc.nat({ max: lines.length - 1 });
const mutation = fc.oneof(
  fc.record({ kind: fc.constant('drop' as const), at }),
  fc.record({ kind: fc.constant('copy' as const), at, to: at }),
  fc.record({ kind: fc.constant('cut' as const), at, share: fc.double({ min: 0, max: 1, noNaN: true }) }),
  fc.record({ kind: fc.constant('swap' as const), at, to: at }),
);

test('answers a damaged kit with problems that stand in the file, and never throws', () => {
  fc.assert(
    fc.property(fc.array(mutation, { minLength: 1, maxLength: 4 }), (mutations) => {
      const damaged = [...lines];
      for (const change of mutations) {
        const line = damaged[change.at] ?? '';
        if (change.kind === 'drop') damaged.splice(change.at, 1);
        else if (change.kind === 'copy') damaged.splice(change.to, 0, line);
        else if (change.kind === 'cut')
          damaged[change.at] = line.slice(0, Math.floor(line.length * change.share));
        else [damaged[change.at], damaged[change.to]] = [damaged[change.to] ?? '', line];
      }
      const result = checkKit(damaged.join('\n'), 'kit.yaml', smallKitFiles);
      for (const problem of result.ok ? result.warnings : result.problems) {
        expect(problem.line).toBeGreaterThanOrEqual(1);
        expect(problem.line).toBeLessThanOrEqual(damaged.length + 1);
        expect(problem.message).not.toBe('');
        expect(problem.hint).not.toBe('');
      }
    }),
    { numRuns: 60 },
  );
});
