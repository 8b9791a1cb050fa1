import { useEffect } from 'react';

/**
 * Keeps the screen from going dark while it is wanted, where the platform gives that.
 *
 * The platform takes it back whenever the page is out of sight; it is asked for again when it comes back.
 */
export function useWakeLock(isWanted: boolean): void {
  useEffect(() => {
    if (!isWanted || !('wakeLock' in navigator)) return undefined;
    let lock: WakeLockSentinel | null = null;
    let isOver = false;
    const ask = async (): Promise<void> => {
      if (document.visibilityState !== 'visible') return;
      // Refused on a nearly empty battery, or by the platform's own rules: the screen then does as it always does.
      const given = await navigator.wakeLock.request('screen').catch(() => null);
      if (isOver) void given?.release().catch(() => undefined);
      else lock = given;
    };
    const again = (): void => void ask();
    document.addEventListener('visibilitychange', again);
    void ask();
    return () => {
      isOver = true;
      document.removeEventListener('visibilitychange', again);
      void lock?.release().catch(() => undefined);
    };
  }, [isWanted]);
}
