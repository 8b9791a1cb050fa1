import { useCallback, useEffect, useState } from 'react';
import type { InstrumentOutcome } from '../../../shared-core/contract/calls.ts';
import { useLink } from '../../bridge/link-context.ts';

/** Pause between two looks at a meter that answers, in milliseconds (ms). */
const againAfterMs = 300;

/** The same while it does not answer. */
const troubledAfterMs = 2000;

/** Longest wait for an answer before the screen says that it is waiting, in milliseconds (ms). */
export const patienceMs = 1500;

/** What a meter shows, seen again and again. */
export interface MeterSeen {
  /** The last answer; null before the first. */
  readonly seen: InstrumentOutcome | null;
  /** It was asked a while ago and has not answered yet. */
  readonly isWaiting: boolean;
  /** One look now. */
  readonly look: () => Promise<InstrumentOutcome | null>;
}

/**
 * Looks at a meter as long as the screen shows it. Nothing waits for it: the field beside it can be typed into
 * all the time.
 *
 * @param identity The instrument; null while none may be looked at.
 */
export function useMeter(build: string, reading: string, identity: string | null): MeterSeen {
  const { call } = useLink();
  const [seen, setSeen] = useState<InstrumentOutcome | null>(null);
  const [isWaiting, setWaiting] = useState(false);
  const look = useCallback(
    () => (identity === null ? Promise.resolve(null) : call('instrument.look', { build, reading, identity })),
    [call, build, reading, identity],
  );
  useEffect(() => {
    let isGone = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const watch = async (): Promise<void> => {
      const late = setTimeout(() => setWaiting(true), patienceMs);
      const outcome = await look();
      clearTimeout(late);
      if (isGone) return;
      setWaiting(false);
      if (outcome !== null) setSeen(outcome);
      timer = setTimeout(() => void watch(), outcome?.kind === 'shows' ? againAfterMs : troubledAfterMs);
    };
    if (identity !== null) void watch();
    return () => {
      isGone = true;
      clearTimeout(timer);
      // What it showed elsewhere, or before, is nothing to take here.
      setSeen(null);
      setWaiting(false);
    };
  }, [look, identity]);
  return { seen, isWaiting, look };
}
