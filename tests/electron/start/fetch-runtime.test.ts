import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { FaceFacts } from '../../../electron/start/choose-face.ts';
import { chooseFace } from '../../../electron/start/choose-face.ts';
import { fetchRuntime, isWorthFetching } from '../../../electron/start/fetch-runtime.ts';

const desk: FaceFacts = {
  wantsBrowser: false,
  wantsNothingOpened: false,
  hasDisplay: true,
  hasWindowProgram: true,
  isRoot: false,
  runtime: null,
};

function installer(code: string): string {
  const path = join(mkdtempSync(join(tmpdir(), 'kitwright-')), 'install.cjs');
  writeFileSync(path, code);
  return path;
}

describe('isWorthFetching', () => {
  it('asks for the runtime where nothing else stands in the way of a window', () => {
    expect(isWorthFetching(desk)).toBe(true);
  });

  it.each([
    { wantsBrowser: true },
    { wantsNothingOpened: true },
    { hasDisplay: false },
    { hasWindowProgram: false },
    { isRoot: true },
    { runtime: '/somewhere/electron' },
  ])('does not ask with %o', (change) => {
    expect(isWorthFetching({ ...desk, ...change })).toBe(false);
  });
});

describe('fetchRuntime', () => {
  it('says whether the installer ended well', async () => {
    await expect(fetchRuntime(installer('process.exit(0)'), 10_000)).resolves.toBe(true);
    await expect(fetchRuntime(installer('process.exit(1)'), 10_000)).resolves.toBe(false);
    await expect(fetchRuntime(installer('throw 1'), 10_000)).resolves.toBe(false);
  });

  it('gives up on one that hangs', async () => {
    await expect(fetchRuntime(installer('setInterval(() => 0, 1000)'), 300)).resolves.toBe(false);
  });
});

describe('chooseFace', () => {
  it('opens the window where its runtime is', () => {
    expect(chooseFace({ ...desk, runtime: '/r/electron' })).toMatchObject({
      face: 'window',
      runtime: '/r/electron',
    });
  });

  it.each([
    [{ runtime: null }, 'runtime is not on this machine'],
    [{ runtime: '/r/electron', isRoot: true }, 'root'],
    [{ runtime: '/r/electron', hasDisplay: false }, 'no display'],
    [{ runtime: '/r/electron', hasWindowProgram: false }, 'not built'],
    [{ runtime: '/r/electron', wantsBrowser: true }, 'as asked'],
    [{ runtime: '/r/electron', wantsNothingOpened: true }, 'for you to open'],
  ])('opens the browser face with %o and says why', (change, why) => {
    const choice = chooseFace({ ...desk, ...change });
    expect(choice.face).toBe('browser');
    expect(choice.why).toContain(why);
  });
});
