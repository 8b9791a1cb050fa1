import { useEffect, useState } from 'react';
import type { Expectation } from '../../shared-core/contract/calls.ts';
import { useLink, useShown } from './link-context.ts';

/**
 * The predictions of a condition, asked for again when bench or parts change.
 *
 * @param condition Null asks for nothing.
 */
export function useExpectation(condition: string | null): Expectation | null {
  const { expect } = useLink();
  const basis = useShown(({ view }) =>
    view === null
      ? ''
      : JSON.stringify([view.build.build, view.build.kitHash, view.build.bench, view.build.fitted]),
  );
  const [held, setHeld] = useState<{ readonly key: string; readonly value: Expectation | null } | null>(null);
  const key = `${condition ?? ''} ${basis}`;
  useEffect(() => {
    if (condition === null) return undefined;
    let gone = false;
    void expect(condition).then((value) => {
      if (!gone) setHeld({ key, value });
    });
    return () => {
      gone = true;
    };
  }, [condition, expect, key]);
  return held?.key === key ? held.value : null;
}
