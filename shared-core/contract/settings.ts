import type { KnownInstrument } from './instrument.ts';
import type { Bench } from '../prediction/bench.ts';

/** A window's place on the screen, in screen pixels. */
export interface WindowPlace {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What is remembered between builds; nothing here bears on safety. */
export interface Settings {
  /** Root type size as a factor: 1, 1.25, 1.5, 2. */
  readonly textSize: number;
  readonly theme: 'as the system' | 'light' | 'dark';
  readonly motion: 'as the system' | 'reduced';
  readonly contrast: 'as the system' | 'more';
  /** A tone at the end of a timer; the words on screen come in any case. */
  readonly sound: 'on' | 'off';
  /** Steps and verdicts read aloud, where the computer itself can speak. */
  readonly speech: 'on' | 'off';
  /** What a foot switch types, as `KeyboardEvent.key`; null for none. See `footKeyFault`. */
  readonly footKey: string | null;
  /** Kit folders opened before, newest first. */
  readonly shelf: readonly string[];
  /** Where the window was, in screen pixels; null before it was ever closed. */
  readonly window: WindowPlace | null;
  /** The bench last recorded, offered as the starting point for the next build. */
  readonly bench: Bench | null;
  /** Instruments found before; what is said of their insulation is recorded anew in each build. */
  readonly instruments: readonly KnownInstrument[];
}

/** Before anything was chosen. */
export const initialSettings: Settings = {
  textSize: 1,
  theme: 'as the system',
  motion: 'as the system',
  contrast: 'as the system',
  sound: 'on',
  speech: 'off',
  footKey: null,
  shelf: [],
  window: null,
  bench: null,
  instruments: [],
};

/** Keys that mean something of their own here, in a form or in a browser. */
const takenKeys: ReadonlySet<string> = new Set([
  ...['Enter', 'Tab', 'Escape', 'Backspace', 'Delete', 'ContextMenu', 'Dead', 'Process', 'Unidentified'],
  ...['ArrowUp', 'ArrowDown', 'ArrowLeft', 'ArrowRight', 'Home', 'End'],
  ...['Shift', 'Control', 'Alt', 'AltGraph', 'Meta', 'CapsLock', 'NumLock', 'Fn'],
  ...['F1', 'F3', 'F5', 'F6', 'F7', 'F8', 'F9', 'F10', 'F11', 'F12'],
]);

/**
 * Why a key cannot be the foot switch's; null where it can.
 *
 * Whatever types, confirms or moves the focus stays with the hands: a foot on ⏎ or the space bar would look like
 * a hand that acknowledges a caution.
 */
export function footKeyFault(key: string): string | null {
  if (key === 'Enter' || key === ' ')
    return 'This key confirms cautions and the plug. It stays with the hands.';
  if (key === 'F8' || key === 'F9') return 'This key is for the plug. It stays with the hands.';
  if (key.length < 2) return 'This key types. It would end up in the figures.';
  if (key.length > 30 || takenKeys.has(key)) return 'This key does something else already.';
  return null;
}
