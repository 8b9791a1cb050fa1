import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeSmallProject } from '../helpers/small-project.ts';
import { root, runCommand } from '../run/child.mjs';

/** Path of a file that must not compile → its text. */
const refused: Readonly<Record<string, string>> = {
  'shared-core/units/node.ts': "import { readFileSync } from 'node:fs';\nexport const read = readFileSync;\n",
  'shared-core/units/process.ts': 'export const where = process.platform;\n',
  'shared-core/units/document.ts': 'export const page = document.title;\n',
  'shared-core/units/console.ts': 'export const say = () => console.log(1);\n',
  'shared-core/units/outside.ts': "export { plain } from '../../electron/files/plain.ts';\n",
  'shared-core/units/enum.ts': 'export enum Lamp {\n  on,\n}\n',
  'shared-core/units/unchecked.ts': 'export const first = (list: readonly number[]): number => list[0];\n',
  'renderer/app/process.ts': 'export const where = process.platform;\n',
  'renderer/app/node.ts': "export { readFileSync } from 'node:fs';\n",
  'electron/host/document.ts': 'export const page = document.title;\n',
};

const accepted: Readonly<Record<string, string>> = {
  'shared-core/units/fine.ts': 'export const double = (ohms: number): number => 2 * ohms;\n',
  'electron/files/plain.ts': 'export const plain = 1;\n',
  'electron/files/value.ts':
    "import { platform } from 'node:process';\nexport { double } from '../../shared-core/units/fine.ts';\nexport const value = platform;\n",
  'renderer/app/page.tsx':
    "import styles from './page.module.css';\nimport './all.css';\nexport const Page = () => <p className={styles['page']}>{document.title}</p>;\n",
};

let project: ReturnType<typeof writeSmallProject>;
let output = '';

beforeAll(async () => {
  project = writeSmallProject({ ...refused, ...accepted });
  const tsc = join(root, 'node_modules/typescript/bin/tsc');
  const runs = await Promise.all(
    ['shared-core', 'electron', 'renderer'].map((folder) =>
      runCommand(process.execPath, [tsc, '-p', folder, '--pretty', 'false'], { cwd: project.folder }),
    ),
  );
  output = runs.map((run) => run.output).join('\n');
}, 30_000);

afterAll(() => project.remove());

describe('the compiler settings', () => {
  it.each(Object.keys(refused))('refuse %s', (path) => {
    expect(output).toContain(`${path}(`);
  });

  it.each(Object.keys(accepted))('accept %s', (path) => {
    expect(output.split('\n').filter((line) => line.startsWith(`${path}(`))).toEqual([]);
  });
});
