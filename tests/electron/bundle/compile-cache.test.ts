import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

const root = fileURLToPath(new URL('../../../', import.meta.url));
afterAll(removeFolders);

/** What a process that keeps what is compiled tells the processes it starts. */
function folderOf(named?: string): string {
  const url = new URL('../../../electron/bundle/compile-cache.mjs', import.meta.url).href;
  const line = `import { keepCompiled } from '${url}'; keepCompiled(); console.log(process.env.NODE_COMPILE_CACHE);`;
  const { NODE_COMPILE_CACHE: _, ...env } = process.env;
  const { stdout } = spawnSync(process.execPath, ['--input-type=module', '--eval', line], {
    env: named === undefined ? env : { ...env, NODE_COMPILE_CACHE: named },
    encoding: 'utf8',
  });
  return stdout.trim();
}

describe('what Node has compiled', () => {
  it('is kept with the build, out of the reach of other users', () => {
    expect(folderOf()).toBe(join(root, 'build/compiled'));
  });

  it('is kept elsewhere where somebody said so', () => {
    const folder = newFolder();
    expect(folderOf(folder)).toBe(folder);
  });
});
