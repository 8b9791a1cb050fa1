import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { expect, test } from 'vitest';

const root = join(import.meta.dirname, '../../..');

/** Everything of the machine that takes rules as an argument, or changes the state past them. */
const inner = [
  'machine',
  'rulebook',
  'reduce',
  'reduce-plug',
  'reduce-work',
  'reduce-drain',
  'reduce-reading',
  'settle',
  'lapse',
  'reach',
];

function sources(folder: string): readonly string[] {
  return readdirSync(join(root, folder), { withFileTypes: true, recursive: true })
    .filter((each) => each.isFile() && /\.(ts|tsx|mjs)$/.test(each.name))
    .map((each) => relative(root, join(each.parentPath, each.name)).split(sep).join('/'))
    .filter((each) => !each.startsWith('shared-core/safety/') && !each.includes('node_modules'));
}

test('nothing outside safety reaches past its front door, where rules could be weakened', () => {
  const pattern = new RegExp(`safety/(rules/|(${inner.join('|')})\\.(ts|js))`);
  const files = ['shared-core', 'electron', 'renderer'].flatMap(sources);
  const offenders = files.filter((file) =>
    readFileSync(join(root, file), 'utf8')
      .split('\n')
      .some((line) => /\bfrom '|import\(/.test(line) && pattern.test(line)),
  );
  expect(files.length).toBeGreaterThan(50);
  expect(offenders).toEqual([]);
});

test('the front door takes no rules', () => {
  const text = readFileSync(join(root, 'shared-core/safety/safety.ts'), 'utf8');
  const signatures = text.match(/export function [^{]+\{/g) ?? [];
  expect(signatures.length).toBeGreaterThan(4);
  expect(signatures.filter((each) => /rule|guard/i.test(each))).toEqual([]);
});
