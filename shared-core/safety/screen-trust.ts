import { silentScreenMs } from './limits.ts';

/** What a screen knows about its host; ticks of the screen's own monotonic clock, in milliseconds (ms). */
export interface ScreenHearing {
  /** When the host was last heard; null when never. */
  readonly lastHeardTick: number | null;
  readonly nowTick: number;
  /** The screen woke from sleep and has not heard the host since. */
  readonly wokeFromSleep: boolean;
  /** This screen is the build's one writer. */
  readonly isWriter: boolean;
}

/** Whether a screen may show the energy state, or must say *State unknown: treat as live*. */
export function isStateKnown(hearing: ScreenHearing): boolean {
  if (!hearing.isWriter || hearing.wokeFromSleep || hearing.lastHeardTick === null) return false;
  const silentMs = hearing.nowTick - hearing.lastHeardTick;
  return silentMs >= 0 && silentMs < silentScreenMs;
}
