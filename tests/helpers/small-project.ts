import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { root } from '../run/child.mjs';

/** Settings that the checks read, copied as they are, so that the rules under test are the real ones. */
const settings = [
  '.oxlintrc.json',
  '.dependency-cruiser.mjs',
  'package.json',
  'tsconfig.json',
  'shared-core/tsconfig.json',
  'electron/tsconfig.json',
  'renderer/tsconfig.json',
  'renderer/css-modules.d.ts',
  'tests/architecture/house-rules.mjs',
];

/**
 * Write a small project with the real settings and the given files into a temporary folder.
 *
 * @param files Path from the project's root → text.
 * @returns The folder, and a function that deletes it.
 */
export function writeSmallProject(files: Readonly<Record<string, string>>): {
  folder: string;
  remove: () => void;
} {
  const folder = mkdtempSync(join(tmpdir(), 'kitwright-rules-'));
  for (const path of settings) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    cpSync(join(root, path), join(folder, path));
  }
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'), 'junction');
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
