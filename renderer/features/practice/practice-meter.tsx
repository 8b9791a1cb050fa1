import { useEffect, useState } from 'react';
import type { Reading } from '../../../shared-core/kit/kit.ts';
import { unitOfMeasure } from '../../../shared-core/kit/read/to-reading.ts';
import { useLink } from '../../bridge/link-context.ts';
import type { Build } from '../../bridge/use-build.ts';

/** What the meter shows in the invented amplifier; it is read off and typed, as at the bench. */
export function PracticeMeter({ build, reading }: { readonly build: Build; readonly reading: Reading }) {
  const link = useLink();
  const [shown, setShown] = useState<{ readonly reading: string; readonly text: string } | null>(null);
  const id = build.build.build;
  const { seq } = build.build;
  useEffect(() => {
    let isOver = false;
    const at = { kind: 'reading', id: reading.id } as const;
    void link.call('practice.meter', { build: id, at }).then((answer) => {
      if (!isOver) setShown({ reading: reading.id, text: answer?.ok === true ? answer.value : '—' });
    });
    return () => {
      isOver = true;
    };
  }, [link, id, reading.id, seq]);
  const unit = unitOfMeasure(reading.measure);
  const text = shown?.reading === reading.id ? shown.text : null;
  return (
    <p className="practice-meter">
      The practice meter shows{' '}
      <strong className="figures">
        {text === null ? '…' : text === 'OL' ? text : `${text}\u202f${unit}`}
      </strong>
    </p>
  );
}
