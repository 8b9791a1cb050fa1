import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { openSettings } from '../../../electron/files/settings-file.ts';
import { initialSettings } from '../../../shared-core/contract/settings.ts';
import { newFolder, removeFolders } from '../../helpers/folders.ts';

afterAll(removeFolders);

describe('settings', () => {
  test('begin as they are described, and are kept', () => {
    const folder = newFolder();
    expect(openSettings(folder).settings.get()).toEqual(initialSettings);
    openSettings(folder).settings.set({ textSize: 1.5, shelf: ['/kits/a.b'] });
    expect(openSettings(folder).settings.get()).toEqual({
      ...initialSettings,
      textSize: 1.5,
      shelf: ['/kits/a.b'],
    });
    expect(readdirSync(folder)).toEqual(['settings.json']);
  });

  test('that cannot be read are set aside, said, and never wiped', () => {
    const folder = newFolder();
    const path = join(folder, 'settings.json');
    for (const number of [1, 2]) {
      writeFileSync(path, `{"textSize": ${number}`);
      const { settings, setAside } = openSettings(folder);
      expect(setAside).toBe(`${path}.unreadable-${number}`);
      expect(readFileSync(setAside ?? '', 'utf8')).toBe(`{"textSize": ${number}`);
      expect(settings.set({ theme: 'dark' }).theme).toBe('dark');
    }
  });

  test('of an empty file are set aside too', () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'settings.json'), '');
    expect(existsSync(openSettings(folder).setAside ?? '')).toBe(true);
  });

  test('of the wrong kind are not used', () => {
    const folder = newFolder();
    writeFileSync(
      join(folder, 'settings.json'),
      '{"textSize": "huge", "theme": 7, "shelf": ["/a", 3], "more": 1}',
    );
    expect(openSettings(folder).settings.get()).toEqual({ ...initialSettings, shelf: ['/a'] });
  });

  test('of contrast, sound, speech and the foot switch are kept; a key of the hands is not', () => {
    const folder = newFolder();
    const chosen = { contrast: 'more', sound: 'off', speech: 'on', footKey: 'PageDown' } as const;
    openSettings(folder).settings.set(chosen);
    expect(openSettings(folder).settings.get()).toEqual({ ...initialSettings, ...chosen });
    writeFileSync(join(folder, 'settings.json'), '{"footKey": "Enter", "contrast": "less", "sound": 0}');
    expect(openSettings(folder).settings.get()).toEqual(initialSettings);
  });

  test('keep where the window was, whole or not at all', () => {
    const folder = newFolder();
    const place = { x: 10, y: 20, width: 900, height: 700 };
    openSettings(folder).settings.set({ window: place });
    expect(openSettings(folder).settings.get().window).toEqual(place);
    writeFileSync(join(folder, 'settings.json'), '{"window": {"x": 1, "y": 2, "width": "wide"}}');
    expect(openSettings(folder).settings.get().window).toBeNull();
  });
});
