import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { kitFolderLimits, kitHash, readKitFolder } from '../../../electron/files/kit-folder.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

afterAll(removeFolders);

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

function kitWith(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = newFolder();
  for (const [path, content] of Object.entries(files)) {
    mkdirSync(join(folder, path, '..'), { recursive: true });
    writeFileSync(join(folder, path), content);
  }
  return folder;
}

async function codeOf(folder: string): Promise<string> {
  const result = await readKitFolder(folder);
  return result.ok ? 'fine' : result.problems[0].code;
}

describe('the kit hash', () => {
  test('is the SHA-256 of what sha256sum prints for the sorted files', async () => {
    const folder = kitWith({
      'kit.yaml': 'format: kitwright/1\n',
      'pictures/b.svg': '<svg/>\n',
      'pictures/a.png': '\u0000x',
    });
    // GNU coreutils as the second implementation; sort in the C locale is by byte.
    const command = 'LC_ALL=C find . -type f | sed s,^./,, | LC_ALL=C sort | xargs sha256sum | sha256sum';
    const expected = execFileSync('sh', ['-c', command], { cwd: folder, encoding: 'utf8' }).slice(0, 64);
    const result = await readKitFolder(folder);
    expect(result.ok && result.value.hash).toBe(expected);
  });

  test('is the same with a byte order mark and Windows line ends in text', () => {
    const unix = new Map([['kit.yaml', bytes('a: 1\nb: 2\n')]]);
    const windows = new Map([['kit.yaml', bytes('\uFEFFa: 1\r\nb: 2\r\n')]]);
    expect(kitHash(windows)).toBe(kitHash(unix));
  });

  test('changes with one byte of a picture, with a name, and with CR LF inside a picture', () => {
    const of = (path: string, text: string) => kitHash(new Map([[path, bytes(text)]]));
    const hashes = [of('a.png', 'x\n'), of('a.png', 'x\r\n'), of('b.png', 'x\n'), of('a.png', 'y\n')];
    expect(new Set(hashes).size).toBe(4);
  });
});

describe('reading a kit folder', () => {
  test('takes the folder and its kit.yaml for the same kit', async () => {
    const folder = kitWith({ 'kit.yaml': 'a: 1\n' });
    const [one, other] = [await readKitFolder(folder), await readKitFolder(join(folder, 'kit.yaml'))];
    expect(one.ok && other.ok && other.value).toEqual(one.ok && one.value);
  });

  test('passes over files that begin with a point', async () => {
    const folder = kitWith({ 'kit.yaml': 'a: 1\n', '.git/config': 'x', '.DS_Store': 'x' });
    const result = await readKitFolder(folder);
    expect(result.ok && [...result.value.files.keys()]).toEqual(['kit.yaml']);
  });

  test('refuses a link inside, to a file or to a folder', async () => {
    const secret = kitWith({ 'secret.txt': 'x' });
    const toFile = kitWith({ 'kit.yaml': 'a: 1\n' });
    symlinkSync(join(secret, 'secret.txt'), join(toFile, 'picture.svg'));
    const toFolder = kitWith({ 'kit.yaml': 'a: 1\n' });
    symlinkSync(secret, join(toFolder, 'pictures'));
    expect([await codeOf(toFile), await codeOf(toFolder)]).toEqual(['file/link', 'file/link']);
  });

  test('refuses a kit.yaml that is a link', async () => {
    const folder = newFolder();
    symlinkSync('/etc/hostname', join(folder, 'kit.yaml'));
    expect(await codeOf(folder)).toBe('file/link');
  });

  test('says that a folder without kit.yaml is no kit, and names a path that is not there', async () => {
    expect(await codeOf(newFolder())).toBe('file/not-a-kit');
    expect(await codeOf('/nowhere/at-all')).toBe('file/not-found');
    expect(await codeOf(join(kitWith({ 'notes.txt': 'x' }), 'notes.txt'))).toBe('file/not-a-kit');
  });

  test('says that a kit.yaml in another encoding is not text', async () => {
    expect(await codeOf(kitWith({ 'kit.yaml': new Uint8Array([0x61, 0xe4, 0x0a]) }))).toBe('file/not-text');
  });

  test('refuses too many files, too deep a folder, too big a file', async () => {
    const many = Object.fromEntries(
      Array.from({ length: kitFolderLimits.files + 1 }, (_, index) => [`p${index}.svg`, 'x']),
    );
    const deep = `${'d/'.repeat(kitFolderLimits.depth + 2)}x.svg`;
    expect(await codeOf(kitWith({ 'kit.yaml': 'a: 1\n', ...many }))).toBe('file/too-many');
    expect(await codeOf(kitWith({ 'kit.yaml': 'a: 1\n', [deep]: 'x' }))).toBe('file/too-many');
    const big = new Uint8Array(kitFolderLimits.fileBytes + 1);
    expect(await codeOf(kitWith({ 'kit.yaml': 'a: 1\n', 'p.png': big }))).toBe('file/too-big');
  });
});
