import { existsSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import Conf from 'conf';
import type { KnownInstrument } from '../../shared-core/contract/instrument.ts';
import type { Settings, WindowPlace } from '../../shared-core/contract/settings.ts';
import { footKeyFault, initialSettings } from '../../shared-core/contract/settings.ts';

/** Where settings are kept: conf in the host and the command line, electron-store in the window's program. */
export interface SettingsPort {
  readonly get: () => Settings;
  readonly set: (settings: Partial<Settings>) => Settings;
}

/** The name of the file, without `.json`, in the data folder: the same for every face. */
export const settingsName = 'settings';

/** A store as conf and electron-store both are. */
export interface SettingsStore {
  readonly store: unknown;
  set(values: Record<string, unknown>): void;
}

/** Settings, and what had to be set aside on the way. */
export interface OpenedSettings {
  readonly settings: SettingsPort;
  /** The file that could not be read, under its new name; null when all was well. */
  readonly setAside: string | null;
}

/**
 * Opens the settings, starting afresh beside a file that cannot be read.
 *
 * Such a file is renamed, never wiped: it may be the only copy of something.
 *
 * @param open Opens the store; throws where its file cannot be parsed.
 */
export function openSettings(
  dataFolder: string,
  open: (folder: string) => SettingsStore = openConf,
): OpenedSettings {
  try {
    return { settings: portOf(open(dataFolder)), setAside: null };
  } catch (error) {
    const path = join(dataFolder, `${settingsName}.json`);
    if (!(error instanceof SyntaxError) || !existsSync(path)) throw error;
    const setAside = freeName(path);
    renameSync(path, setAside);
    return { settings: portOf(open(dataFolder)), setAside };
  }
}

function openConf(folder: string): SettingsStore {
  return new Conf<Record<string, unknown>>({
    cwd: folder,
    configName: settingsName,
    projectName: 'kitwright',
    accessPropertiesByDotNotation: false,
  });
}

function portOf(store: SettingsStore): SettingsPort {
  const get = (): Settings => ({ ...initialSettings, ...known(store.store) });
  return {
    get,
    set: (changes) => {
      store.set({ ...changes });
      return get();
    },
  };
}

/** The members that are settings of the right kind; anything else in the file is left alone and not used. */
function known(stored: unknown): Partial<Settings> {
  if (typeof stored !== 'object' || stored === null) return {};
  const { textSize, theme, motion, shelf, window, bench, instruments } = stored as Stored;
  return {
    ...(typeof textSize === 'number' && textSize >= 0.5 && textSize <= 4 ? { textSize } : {}),
    ...(theme === 'light' || theme === 'dark' ? { theme } : {}),
    ...(motion === 'reduced' ? { motion } : {}),
    ...knownOfHands(stored),
    ...(Array.isArray(shelf) ? { shelf: shelf.filter((path) => typeof path === 'string') } : {}),
    ...(isWindowPlace(window) ? { window } : {}),
    ...(Array.isArray(instruments) ? { instruments: instruments.filter(isInstrument) } : {}),
    ...(typeof bench === 'object' && bench !== null ? { bench: bench as Settings['bench'] } : {}),
  };
}

type Stored = Partial<Record<keyof Settings, unknown>>;

/** Contrast, sound, speech and the foot switch. */
function knownOfHands({ contrast, sound, speech, footKey }: Stored): Partial<Settings> {
  return {
    ...(contrast === 'more' ? { contrast } : {}),
    ...(sound === 'off' ? { sound } : {}),
    ...(speech === 'on' ? { speech } : {}),
    ...(typeof footKey === 'string' && footKeyFault(footKey) === null ? { footKey } : {}),
  };
}

function isInstrument(stored: unknown): stored is KnownInstrument {
  if (typeof stored !== 'object' || stored === null) return false;
  const { address, identity, name, isolated, earthVolts } = stored as Partial<
    Record<keyof KnownInstrument, unknown>
  >;
  const isText = [identity, name].every((text) => typeof text === 'string');
  const isAddress = typeof address === 'object' && address !== null && 'kind' in address;
  return isText && isAddress && typeof isolated === 'boolean' && Number.isFinite(earthVolts);
}

function freeName(path: string): string {
  for (let number = 1; ; number += 1) {
    const name = `${path}.unreadable-${number}`;
    if (!existsSync(name)) return name;
  }
}

function isWindowPlace(stored: unknown): stored is WindowPlace {
  if (typeof stored !== 'object' || stored === null) return false;
  const { x, y, width, height } = stored as Partial<Record<keyof WindowPlace, unknown>>;
  return [x, y, width, height].every((figure) => Number.isFinite(figure));
}
