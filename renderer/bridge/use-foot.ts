import { useEffect, useRef } from 'react';
import { useShown } from './link-context.ts';

/**
 * Calls a function when the foot switch is pressed, once for each press.
 *
 * Given only where going on is harmless: the rules refuse a foot that acknowledges, confirms or settles. While a
 * dialog is open it does nothing.
 */
export function useFoot(press: () => void, isOffered: boolean): void {
  const key = useShown((state) => state.settings.footKey);
  const latest = useRef(press);
  useEffect(() => {
    latest.current = press;
  });
  useEffect(() => {
    if (key === null || !isOffered) return undefined;
    const hear = (event: KeyboardEvent): void => {
      if (event.key !== key || event.ctrlKey || event.altKey || event.metaKey) return;
      if (document.querySelector('dialog[open]') !== null) return;
      event.preventDefault();
      if (!event.repeat) latest.current();
    };
    window.addEventListener('keydown', hear);
    return () => window.removeEventListener('keydown', hear);
  }, [key, isOffered]);
}
