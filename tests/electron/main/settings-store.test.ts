import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { openSettings } from '../../../electron/files/settings-file.ts';
import { openWindowSettings } from '../../../electron/main/window-settings.ts';

// electron-store asks the runtime for a folder that is not used here: the data folder is given.
vi.mock('electron', () => {
  const app = { getPath: () => '/nowhere', getVersion: () => '0' };
  const ipcMain = { on: () => undefined };
  return { default: { app, ipcMain, shell: {} }, app, ipcMain, shell: {} };
});

const settings = { textSize: 1.5, theme: 'dark', shelf: ['/kits/a.b'] } as const;

test('the window and the host keep the same settings file, byte for byte', () => {
  const [ofWindow, ofHost] = [1, 2].map(() => mkdtempSync(join(tmpdir(), 'kitwright-'))) as [string, string];
  openWindowSettings(ofWindow).settings.set(settings);
  openSettings(ofHost).settings.set(settings);
  const read = (folder: string): string => readFileSync(join(folder, 'settings.json'), 'utf8');
  expect(read(ofWindow)).toBe(read(ofHost));
  expect(openSettings(ofWindow).settings.get()).toMatchObject(settings);
  expect(openWindowSettings(ofHost).settings.get()).toMatchObject(settings);
});
