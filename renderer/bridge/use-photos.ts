import { useEffect, useState } from 'react';
import { useLink } from './link-context.ts';

/** Addresses of photos of a build, by their files; those that are not there yet are missing. */
export function usePhotos(build: string, files: readonly string[]): Readonly<Record<string, string>> {
  const { blob } = useLink();
  const [addresses, setAddresses] = useState<Readonly<Record<string, string>>>({});
  const wanted = [...new Set(files)].toSorted().join(' ');
  useEffect(() => {
    const made: string[] = [];
    let gone = false;
    const fetchAll = async (): Promise<void> => {
      for (const file of wanted.split(' ').filter((each) => each !== '')) {
        const found = await blob('photo', { build, file });
        if (found === null || gone) continue;
        const address = URL.createObjectURL(new Blob([new Uint8Array(found.bytes)], { type: found.type }));
        made.push(address);
        setAddresses((held) => ({ ...held, [file]: address }));
      }
    };
    void fetchAll();
    return () => {
      gone = true;
      for (const address of made) URL.revokeObjectURL(address);
      setAddresses({});
    };
  }, [blob, build, wanted]);
  return addresses;
}
