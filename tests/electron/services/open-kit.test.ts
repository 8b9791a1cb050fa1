import { appendFileSync, cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openCheckedKit, openKit } from '../../../electron/services/open-kit.ts';
import type { KitOnDisk } from '../../../electron/services/open-kit.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

let folder: string;
beforeAll(() => {
  folder = newFolder();
  for (const copy of ['one', 'two', 'three']) {
    cpSync(new URL('../../../kits/heron/', import.meta.url), join(folder, copy), { recursive: true });
  }
});
afterAll(removeFolders);

async function opened(copy: string, open = openKit): Promise<KitOnDisk> {
  const kit = await open(join(folder, copy));
  if (!kit.ok) throw new Error(kit.problems[0].message);
  return kit.value;
}

describe('opening a kit', () => {
  it('reads equal folders once, and names each by its own file', async () => {
    const [one, two] = [await opened('one'), await opened('two')];
    expect(two.kit).toBe(one.kit);
    expect(two.folder.path).not.toBe(one.folder.path);
    expect([one, two].map(({ source }) => source.file)).toEqual(
      ['one', 'two'].map((copy) => join(folder, copy, 'kit.yaml')),
    );
  });

  it('reads a kit anew when a letter of it has changed', async () => {
    const file = join(folder, 'two', 'kit.yaml');
    const before = await opened('two');
    writeFileSync(file, readFileSync(file, 'utf8').replace('name: Heron', 'name: Herron'));
    const after = await opened('two');
    expect([before.kit.name, after.kit.name]).toEqual(['Heron', 'Herron']);
    appendFileSync(file, '\nbroken: [');
    expect((await openKit(join(folder, 'two'))).ok).toBe(false);
  });

  it('takes no kit for checked that was only read, nor one whose picture has gone', async () => {
    const read = await opened('three');
    expect((await opened('three', openCheckedKit)).kit).not.toBe(read.kit);
    const picture = [...read.folder.files.keys()].find((path) => path.startsWith('pictures/'));
    rmSync(join(folder, 'three', picture ?? ''));
    const without = await openCheckedKit(join(folder, 'three'));
    expect(without.ok || without.problems.map(({ code }) => code)).toContain('kit/picture-missing');
  });
});
