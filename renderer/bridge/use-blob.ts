import { useEffect, useState } from 'react';
import { useLink } from './link-context.ts';

/** The address of a picture of the open build's kit; null until it is there. */
export function usePicture(build: string, path: string | null): string | null {
  const { blob } = useLink();
  const [address, setAddress] = useState<string | null>(null);
  useEffect(() => {
    if (path === null) return undefined;
    let made: string | null = null;
    let gone = false;
    void blob('picture', { build, path }).then((file) => {
      if (file === null || gone) return;
      made = URL.createObjectURL(new Blob([new Uint8Array(file.bytes)], { type: file.type }));
      setAddress(made);
    });
    return () => {
      gone = true;
      if (made !== null) URL.revokeObjectURL(made);
      setAddress(null);
    };
  }, [blob, build, path]);
  return address;
}
