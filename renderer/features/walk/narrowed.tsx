import { useEffect, useState } from 'react';
import type { JudgedReading } from '../../../shared-core/contract/calls.ts';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import type { ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';
import { useLink } from '../../bridge/link-context.ts';
import { bandWords, isInsideBand } from './reading-words.ts';

interface NarrowedProps {
  readonly reading: Reading;
  readonly judged: JudgedReading;
  readonly value: number | null;
}

/** Where a reading fits by itself but not together with the ones before it: what these leave room for. */
export function Narrowed({ reading, judged, value }: NarrowedProps) {
  const { expect } = useLink();
  const [narrowed, setNarrowed] = useState<ReadingPrediction | null>(null);
  const isSurprise =
    (judged.verdict === 'out of band' || judged.verdict === 'borderline') &&
    value !== null &&
    isInsideBand(judged.expectation, value);
  useEffect(() => {
    if (!isSurprise) return undefined;
    let gone = false;
    void expect(reading.in).then((answer) => {
      if (!gone) setNarrowed(answer?.conditioned.find(({ id }) => id === reading.id) ?? null);
    });
    return () => {
      gone = true;
    };
  }, [isSurprise, expect, reading.in, reading.id]);
  if (!isSurprise) return null;
  return (
    <p>
      By itself it would fit; together with your good readings before it, it does not.
      {narrowed === null
        ? ''
        : ` After them, ${bandWords(narrowed).replace(/^./, (first) => first.toLowerCase())}`}
    </p>
  );
}
