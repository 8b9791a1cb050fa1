import { useState } from 'react';
import type { TakenFrom } from '../../../shared-core/safety/instrument.ts';

/** A number that an instrument put into the entry field. */
interface Taken {
  readonly text: string;
  readonly from: TakenFrom;
}

/**
 * Where the number in the field came from: an instrument as long as it stands there as it was sent.
 *
 * Changed by a single key, it is a number that was typed.
 */
export function useTaken(text: string): readonly [TakenFrom | null, (taken: Taken) => void] {
  const [taken, setTaken] = useState<Taken | null>(null);
  return [taken !== null && taken.text === text ? taken.from : null, setTaken];
}
