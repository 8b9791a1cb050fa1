import { expect, test } from 'vitest';
import { dataFolder } from '../../../electron/files/data-folder.ts';

const linux = { env: {}, platform: 'linux', home: '/home/jm', cwd: '/work' } as const;

test.each([
  ['the folder given', '/given', linux, '/given'],
  ['a relative one from where the command stands', 'data', linux, '/work/data'],
  ['the given one before the variable', '/given', { ...linux, env: { KITWRIGHT_DATA: '/var' } }, '/given'],
  ['the variable', undefined, { ...linux, env: { KITWRIGHT_DATA: '/var' } }, '/var'],
  [
    'an empty variable as none',
    undefined,
    { ...linux, env: { KITWRIGHT_DATA: '' } },
    '/home/jm/.config/kitwright',
  ],
  ['XDG_CONFIG_HOME', undefined, { ...linux, env: { XDG_CONFIG_HOME: '/x' } }, '/x/kitwright'],
  [
    'no relative XDG_CONFIG_HOME',
    undefined,
    { ...linux, env: { XDG_CONFIG_HOME: 'x' } },
    '/home/jm/.config/kitwright',
  ],
  [
    'the library on macOS',
    undefined,
    { ...linux, platform: 'darwin' as const },
    '/home/jm/Library/Application Support/kitwright',
  ],
])('takes %s', (_, chosen, surroundings, expected) => {
  expect(dataFolder(chosen, surroundings)).toBe(expected);
});
