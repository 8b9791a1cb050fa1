import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { chooseFace } from '../../../electron/start/choose-face.ts';
import type { FaceFacts } from '../../../electron/start/choose-face.ts';
import { findRuntime, hasDisplay } from '../../../electron/start/find-runtime.ts';
import { readStartOptions } from '../../../electron/start/start-options.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

afterAll(removeFolders);

const all: FaceFacts = {
  wantsBrowser: false,
  hasWindowProgram: true,
  runtime: '/electron',
  hasDisplay: true,
  isRoot: false,
  wantsNothingOpened: false,
};

describe('the face', () => {
  test('is the window where everything for it is there', () => {
    expect(chooseFace(all)).toMatchObject({ face: 'window', runtime: '/electron' });
  });

  test.each([
    ['it was asked for', { wantsBrowser: true }, true, /as asked/],
    ['nothing is to be opened', { wantsNothingOpened: true }, false, /for you to open/],
    ['the runtime is missing', { runtime: null }, true, /runtime is not on this machine/],
    ['the window’s program is missing', { hasWindowProgram: false }, true, /program is not built/],
    ['it is root who starts it', { isRoot: true }, true, /root/],
    ['there is no display', { hasDisplay: false }, false, /no display/],
    ['asked for without a display', { wantsBrowser: true, hasDisplay: false }, false, /as asked/],
  ] as const)('is the browser when %s, and the reason is said', (_, facts, opens, why) => {
    expect(chooseFace({ ...all, ...facts })).toMatchObject({
      face: 'browser',
      opens,
      why: expect.stringMatching(why),
    });
  });
});

describe('the runtime', () => {
  test('is found beside the package, and in another folder when one is named', () => {
    const [folder, other] = [newFolder(), newFolder()];
    expect(findRuntime(folder, undefined, 'linux')).toBeNull();
    writeFileSync(join(folder, 'path.txt'), 'electron');
    // The note alone is not the program.
    expect(findRuntime(folder, undefined, 'linux')).toBeNull();
    mkdirSync(join(folder, 'dist'));
    writeFileSync(join(folder, 'dist', 'electron'), '');
    expect(findRuntime(folder, undefined, 'linux')).toBe(join(folder, 'dist', 'electron'));
    expect(findRuntime(folder, other, 'linux')).toBeNull();
    writeFileSync(join(other, 'electron'), '');
    expect(findRuntime(folder, other, 'linux')).toBe(join(other, 'electron'));
  });
});

test.each([
  [{}, 'linux', false],
  [{ DISPLAY: ':0' }, 'linux', true],
  [{ WAYLAND_DISPLAY: 'wayland-0' }, 'linux', true],
  [{ DISPLAY: '' }, 'linux', false],
  [{}, 'darwin', true],
  [{ SSH_CONNECTION: '1 2 3 4' }, 'darwin', false],
] as const)('with %j on %s a display is there: %s', (env, platform, expected) => {
  expect(hasDisplay(env, platform)).toBe(expected);
});

describe('what was typed after npm start', () => {
  test('is a kit and options', () => {
    const read = readStartOptions(['kits/heron', '--data', '/d', '--browser', '--no-open', '--port', '8080']);
    expect(read).toEqual({
      kit: 'kits/heron',
      data: '/d',
      browser: true,
      noOpen: true,
      help: false,
      port: 8080,
    });
  });

  test.each([[['a', 'b']], [['--nope']], [['--port', 'x']], [['--port', '70000']], [['--data']]])(
    'that cannot be read is answered in words: %j',
    (argv) => {
      expect(readStartOptions(argv)).toEqual(expect.stringMatching(/.{10}/));
    },
  );
});
