import { useEffect, useRef } from 'react';

/** How a key came: once by hand, or by being held down. */
export type Pressed = 'hand' | 'repeat';

/**
 * Calls a function at a key, wherever the focus is.
 *
 * Function keys are heard even while typing, because they never type anything. Any other key is heard
 * only where it would do nothing else: not in a field or on a control, not in a dialog, and not with
 * Ctrl, Alt or Meta (AltGr is Ctrl + Alt on many keyboards).
 */
export function useKey(key: string, press: (by: Pressed) => void, enabled = true): void {
  const latest = useRef(press);
  useEffect(() => {
    latest.current = press;
  });
  useEffect(() => {
    if (!enabled) return undefined;
    const hear = (event: KeyboardEvent): void => {
      if (event.key !== key || event.ctrlKey || event.altKey || event.metaKey) return;
      if (!isFunctionKey(key) && isTaken(event.target)) return;
      event.preventDefault();
      latest.current(event.repeat ? 'repeat' : 'hand');
    };
    window.addEventListener('keydown', hear);
    return () => window.removeEventListener('keydown', hear);
  }, [key, enabled]);
}

function isFunctionKey(key: string): boolean {
  return /^F\d+$/.test(key);
}

/** What does something of its own with a key; ⏎ does nothing on a tick. */
const controls =
  'a, button, input:not([type=checkbox], [type=radio]), select, textarea, summary, [contenteditable]';

function isTaken(target: EventTarget | null): boolean {
  if (document.querySelector('dialog[open]') !== null) return true;
  return target instanceof Element && target.closest(controls) !== null;
}
