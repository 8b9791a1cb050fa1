import { useEffect } from 'react';
import { useLink, useShown } from '../bridge/link-context.ts';

/** How often the screen looks at its clock, in milliseconds (ms). */
const lookEveryMs = 500;

/** Keeps the page to the settings, and the clock going. */
export function useLook(): void {
  const { look } = useLink();
  const { textSize, theme, motion, contrast } = useShown((state) => state.settings);
  useEffect(() => {
    const page = document.documentElement;
    page.style.fontSize = `${textSize * 100}%`;
    page.dataset['theme'] = theme === 'as the system' ? 'system' : theme;
    page.dataset['motion'] = motion === 'reduced' ? 'reduced' : 'system';
    page.dataset['contrast'] = contrast === 'more' ? 'more' : 'system';
  }, [textSize, theme, motion, contrast]);
  useEffect(() => {
    const timer = setInterval(look, lookEveryMs);
    return () => clearInterval(timer);
  }, [look]);
}
