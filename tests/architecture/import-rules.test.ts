import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { corePackages, layers } from '../../.dependency-cruiser.mjs';
import { writeSmallProject } from '../helpers/small-project.ts';
import { checkArchitecture } from '../run/check-architecture.mjs';
import { root } from '../run/child.mjs';

const value = 'export const value = 1;\n';

/** For every layer but the last, a file that imports its right-hand neighbour, which it may not. */
const rightwards = Object.fromEntries(
  layers
    .slice(0, -1)
    .map((layer, index) => [
      `shared-core/${layer}/right.ts`,
      `export { value } from '../${layers[index + 1]}/value.ts';\n`,
    ]),
);

/** For every layer but the first, a file that imports its left-hand neighbour, which it may. */
const leftwards = Object.fromEntries(
  layers
    .slice(1)
    .map((layer, index) => [
      `shared-core/${layer}/left.ts`,
      `export { value } from '../${layers[index]}/value.ts';\n`,
    ]),
);

const files: Readonly<Record<string, string>> = {
  ...Object.fromEntries(layers.map((layer) => [`shared-core/${layer}/value.ts`, value])),
  ...rightwards,
  ...leftwards,
  'shared-core/units/node.ts': "export { readFileSync } from 'node:fs';\n",
  'shared-core/units/package.ts': "export { useState } from 'react';\n",
  'shared-core/units/outside.ts': "export { value } from '../../electron/files/value.ts';\n",
  'shared-core/units/dynamic.ts': "export const load = () => import('./value.ts');\n",
  'shared-core/units/cycle-a.ts': "export { b } from './cycle-b.ts';\nexport const a = 1;\n",
  'shared-core/units/cycle-b.ts': "export { a } from './cycle-a.ts';\nexport const b = 1;\n",
  'shared-core/units/lost.ts': "export { value } from './no-such-file.ts';\n",
  'shared-core/units/allowed.ts':
    "export { parse } from 'yaml';\nexport { z } from 'zod';\nexport { scaleLog } from 'd3-scale';\nexport { levenbergMarquardt } from 'ml-levenberg-marquardt';\n",
  'shared-core/contract/schemas.ts': 'export const schema = 1;\nexport type Shape = number;\n',
  'electron/files/value.ts': value,
  'electron/host/screen.ts': "export { value } from '../../renderer/app/value.ts';\n",
  'electron/host/test.ts': "export { value } from '../../tests/helpers/value.ts';\n",
  'renderer/app/value.ts': value,
  'renderer/app/host.ts': "export { value } from '../../electron/files/value.ts';\n",
  'renderer/app/schema.ts': "export { schema } from '../../shared-core/contract/schemas.ts';\n",
  'renderer/app/shape.ts': "export type { Shape } from '../../shared-core/contract/schemas.ts';\n",
  'renderer/app/composes.ts':
    "export { value } from '../features/drain/value.ts';\nexport { value as other } from '../features/bench/value.ts';\n",
  'renderer/components/value.ts': value,
  'renderer/components/app.ts': "export { value } from '../app/value.ts';\n",
  'renderer/features/drain/value.ts': value,
  'renderer/features/drain/own.ts':
    "export { value } from './value.ts';\nexport { value as shared } from '../../components/value.ts';\n",
  'renderer/features/bench/value.ts': value,
  'renderer/features/bench/other.ts': "export { value } from '../drain/value.ts';\n",
  'tests/helpers/value.ts': value,
};

/** Path of an offender → the rule that must report it. */
const offenders: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    layers.slice(0, -1).map((layer) => [`shared-core/${layer}/right.ts`, `layer-${layer}`]),
  ),
  'shared-core/units/node.ts': 'core-stands-alone',
  'shared-core/units/package.ts': 'core-stands-alone',
  'shared-core/units/outside.ts': 'core-stands-alone',
  'shared-core/units/dynamic.ts': 'core-without-dynamic-import',
  'shared-core/units/cycle-a.ts': 'no-cycle',
  'shared-core/units/lost.ts': 'resolvable',
  'electron/host/screen.ts': 'electron-without-renderer',
  'electron/host/test.ts': 'product-without-tests',
  'renderer/app/host.ts': 'renderer-without-electron',
  'renderer/app/schema.ts': 'renderer-takes-types-of-schemas',
  'renderer/components/app.ts': 'components-know-no-app',
  'renderer/features/bench/other.ts': 'feature-stands-alone',
};

let project: ReturnType<typeof writeSmallProject>;
let result: Awaited<ReturnType<typeof checkArchitecture>>;

beforeAll(async () => {
  project = writeSmallProject(files);
  result = await checkArchitecture(project.folder);
}, 30_000);

afterAll(() => project.remove());

describe('the import rules', () => {
  it.each(Object.entries(offenders))('report %s under %s', (path, rule) => {
    expect(result.violations.filter(({ from }) => from === path).map((found) => found.rule)).toContain(rule);
  });

  it('report nobody else', () => {
    const others = result.violations.filter(
      ({ from }) => offenders[from] === undefined && from !== 'shared-core/units/cycle-b.ts',
    );
    expect(others).toEqual([]);
  });

  it('look at every module that was written', () => {
    expect(result.cruised).toBeGreaterThanOrEqual(Object.keys(files).length);
  });

  it('say that nothing was looked at when there is nothing', async () => {
    const empty = writeSmallProject({});
    const { cruised } = await checkArchitecture(empty.folder);
    empty.remove();
    // The one declaration file that comes with the settings is all there is.
    expect(cruised).toBeLessThanOrEqual(1);
  });

  it('name every folder of the core', () => {
    const folders = readdirSync(join(root, 'shared-core'), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map(({ name }) => name);
    expect([...layers]).toEqual(expect.arrayContaining(folders));
  });

  it('allow the same packages as the linter does', () => {
    const lint = JSON.parse(readFileSync(join(root, '.oxlintrc.json'), 'utf8')) as {
      overrides: { files: string[]; rules: Record<string, [string, { patterns: { group: string[] }[] }]> }[];
    };
    const inKit = lint.overrides.find(({ files: globs }) => globs.includes('shared-core/kit/**'));
    const group = inKit?.rules['no-restricted-imports']?.[1].patterns[0]?.group ?? [];
    const packages = group.filter((glob) => /^![a-z]/.test(glob)).map((glob) => glob.slice(1));
    expect(packages.toSorted()).toEqual(Object.keys(corePackages).toSorted());
    expect(Object.values(corePackages).every((reason) => reason.length > 10)).toBe(true);
    expect(packages.every((name) => existsSync(join(root, 'node_modules', name)))).toBe(true);
  });
});
