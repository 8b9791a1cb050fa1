import { useEffect, useState } from 'react';
import type { AdjusterCurve } from '../../shared-core/prediction/adjuster-curve.ts';
import { useLink, useShown } from './link-context.ts';

/**
 * The computed curve of the adjuster that a reading is set by; null while it is computed, and where there is none.
 *
 * @param reading Null asks for nothing.
 */
export function useAdjuster(reading: string | null): AdjusterCurve | null {
  const { call } = useLink();
  const build = useShown(({ view }) => view?.build.build ?? null);
  const basis = useShown(({ view }) =>
    view === null ? '' : JSON.stringify([view.build.kitHash, view.build.bench, view.build.fitted]),
  );
  const key = `${build} ${reading} ${basis}`;
  const [held, setHeld] = useState<{ readonly key: string; readonly value: AdjusterCurve | null } | null>(
    null,
  );
  useEffect(() => {
    if (build === null || reading === null) return undefined;
    let gone = false;
    void call('predict.adjuster', { build, reading }).then((answer) => {
      if (!gone) setHeld({ key, value: answer?.ok === true ? answer.value : null });
    });
    return () => {
      gone = true;
    };
  }, [build, reading, call, key]);
  return held?.key === key ? held.value : null;
}
