import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeSmallProject } from '../helpers/small-project.ts';
import { root, runCommand } from '../run/child.mjs';

const long = (lines: number) => `${'// line\n'.repeat(lines - 1)}export const end = 1;\n`;

/** Path of a file that breaks exactly one rule → what it says, and the rule that must report it. */
const broken: Readonly<Record<string, readonly [source: string, rule: string]>> = {
  'shared-core/units/default-export.ts': ['export default 1;', 'import(no-default-export)'],
  'shared-core/units/any.ts': [
    'export const read = (text: any): number => text.size;',
    'typescript(no-explicit-any)',
  ],
  'shared-core/units/console.ts': ['export const log = () => console.log(1);', 'eslint(no-console)'],
  'shared-core/units/dynamic.ts': [
    "export const load = () => import('./fine.ts');",
    'house(no-dynamic-import)',
  ],
  'shared-core/units/global.ts': ['export const all = globalThis;', 'eslint(no-restricted-globals)'],
  'shared-core/units/now.ts': ['export const now = () => Date.now();', 'eslint(no-restricted-properties)'],
  'shared-core/units/today.ts': ['export const today = () => new Date();', 'house(no-present-time)'],
  'shared-core/units/random.ts': [
    'export const r = () => Math.random();',
    'eslint(no-restricted-properties)',
  ],
  'shared-core/units/node.ts': ["export { readFileSync } from 'node:fs';", 'eslint(no-restricted-imports)'],
  'shared-core/units/package.ts': ["export { useState } from 'react';", 'eslint(no-restricted-imports)'],
  'shared-core/units/zod.ts': ["export { z } from 'zod';", 'eslint(no-restricted-imports)'],
  'shared-core/contract/calls.ts': ["export { z } from 'zod';", 'eslint(no-restricted-imports)'],
  'shared-core/units/outside.ts': [
    "export { write } from '../../electron/files/write.ts';",
    'eslint(no-restricted-imports)',
  ],
  'shared-core/units/cycle-a.ts': [
    "import { b } from './cycle-b.ts';\nexport const a = (): number => b();",
    'import(no-cycle)',
  ],
  'shared-core/units/cycle-b.ts': [
    "import { a } from './cycle-a.ts';\nexport const b = (): number => a();",
    'import(no-cycle)',
  ],
  'shared-core/units/long.ts': [long(401), 'eslint(max-lines)'],
  'tests/units/long.test.ts': [long(501), 'eslint(max-lines)'],
  'electron/files/unawaited.ts': [
    "import { writeFile } from 'node:fs/promises';\nexport function save(): void {\n  writeFile('a', 'b');\n}",
    'typescript(no-floating-promises)',
  ],
  'electron/host/electron.ts': ["export { app } from 'electron';", 'eslint(no-restricted-imports)'],
  'electron/host/store.ts': [
    "export { default as Store } from 'electron-store';",
    'eslint(no-restricted-imports)',
  ],
  'electron/host/zod.ts': ["export { z } from 'zod';", 'eslint(no-restricted-imports)'],
  'electron/main/zod.ts': ["export { z } from 'zod/v4';", 'eslint(no-restricted-imports)'],
  'renderer/app/electron.ts': ["export { ipcRenderer } from 'electron';", 'eslint(no-restricted-imports)'],
  'renderer/app/alert.ts': ["export const say = () => window.alert('x');", 'eslint(no-alert)'],
  'renderer/app/confirm.ts': ["export const ask = () => confirm('x');", 'eslint(no-alert)'],
  'renderer/app/prompt.ts': ["export const get = () => prompt('x');", 'eslint(no-alert)'],
  'renderer/components/hook.tsx': [
    "import { useState } from 'react';\nexport function Lamp({ on }: { on: boolean }) {\n  if (on) useState(0);\n  return <i>lamp</i>;\n}",
    'react-hooks(rules-of-hooks)',
  ],
  'renderer/components/effect.tsx': [
    "import { useEffect } from 'react';\nexport function Say({ text, tell }: { text: string; tell: (text: string) => void }) {\n  useEffect(() => tell(text), []);\n  return <i>{text}</i>;\n}",
    'react-hooks(exhaustive-deps)',
  ],
  'renderer/components/image.tsx': [
    'export const Picture = () => <img src="a.svg" />;',
    'jsx-a11y(alt-text)',
  ],
};

/** Files that look alike but keep the rules: a rule that reports everything would be caught here. */
const fine: Readonly<Record<string, string>> = {
  'shared-core/units/fine.ts':
    "import { parse } from 'yaml';\nexport const read = (text: string): unknown => [parse(text), new Date(0)];\n",
  'shared-core/kit/schema.ts': "export { z } from 'zod';\n",
  'shared-core/contract/schemas.ts': "export { z } from 'zod';\n",
  'shared-core/units/as-long-as-allowed.ts': long(400),
  'tests/units/as-long-as-allowed.test.ts': long(500),
  'tests/reference/rows.ts': long(900),
  'electron/files/write.ts':
    "import { writeFile } from 'node:fs/promises';\nexport const write = async () => writeFile('a', 'b');\n",
  'electron/main/window.ts': "export { app } from 'electron';\n",
  'electron/preload/bridge.ts': "export { contextBridge } from 'electron';\n",
  'renderer/components/picture.tsx':
    'export const Picture = () => <img src="a.svg" alt="Socket from below" />;\n',
};

interface Diagnostic {
  readonly code: string;
  readonly filename: string;
}

let project: ReturnType<typeof writeSmallProject>;
const rulesByFile = new Map<string, string[]>();

beforeAll(async () => {
  const sources = Object.entries(broken).map(([path, [source]]) => [path, `${source}\n`] as const);
  project = writeSmallProject({ ...Object.fromEntries(sources), ...fine });
  const cli = join(root, 'node_modules/oxlint/bin/oxlint');
  const { output } = await runCommand(process.execPath, [cli, '-f', 'json'], { cwd: project.folder });
  const { diagnostics } = JSON.parse(output) as { diagnostics: Diagnostic[] };
  for (const { code, filename } of diagnostics) {
    rulesByFile.set(filename, [...(rulesByFile.get(filename) ?? []), code]);
  }
}, 30_000);

afterAll(() => project.remove());

describe('lint', () => {
  it.each(Object.entries(broken).map(([path, [, rule]]) => [rule, path] as const))(
    'reports %s in %s',
    (rule, path) => {
      expect(rulesByFile.get(path)).toContain(rule);
    },
  );

  it.each(Object.keys(fine))('finds nothing in %s', (path) => {
    expect(rulesByFile.get(path) ?? []).toEqual([]);
  });
});
