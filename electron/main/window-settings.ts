import Store from 'electron-store';
import { openSettings, settingsName } from '../files/settings-file.ts';
import type { OpenedSettings } from '../files/settings-file.ts';

/** The window's settings: through electron-store, in the very file that the host keeps through conf. */
export function openWindowSettings(dataFolder: string): OpenedSettings {
  return openSettings(
    dataFolder,
    (cwd) =>
      new Store<Record<string, unknown>>({ cwd, name: settingsName, accessPropertiesByDotNotation: false }),
  );
}
