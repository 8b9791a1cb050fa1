import { useEffect, useRef } from 'react';

/**
 * Hears pictures that are dropped anywhere on the page or pasted.
 *
 * A file that is dropped never takes the place of the page, whatever it is.
 */
export function useGivenFiles(take: (files: readonly File[]) => void, isReady: boolean): void {
  const latest = useRef(take);
  useEffect(() => {
    latest.current = take;
  });
  useEffect(() => {
    const hold = (event: DragEvent): void => {
      if (event.dataTransfer?.types.includes('Files') === true) event.preventDefault();
    };
    const drop = (event: DragEvent): void => {
      const files = [...(event.dataTransfer?.files ?? [])];
      if (files.length === 0) return;
      event.preventDefault();
      if (isReady) latest.current(files);
    };
    const paste = (event: ClipboardEvent): void => {
      const files = [...(event.clipboardData?.files ?? [])];
      if (files.length === 0) return;
      event.preventDefault();
      if (isReady) latest.current(files);
    };
    window.addEventListener('dragover', hold);
    window.addEventListener('drop', drop);
    window.addEventListener('paste', paste);
    return () => {
      window.removeEventListener('dragover', hold);
      window.removeEventListener('drop', drop);
      window.removeEventListener('paste', paste);
    };
  }, [isReady]);
}
