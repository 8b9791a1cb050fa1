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
  shelf: [],
  window: null,
  bench: null,
  instruments: [],
};
