import { useEffect, useState } from 'react';
import type { Together } from '../../shared-core/bands/see-together.ts';
import { useLink, useShown } from './link-context.ts';

/** All readings seen together, as far as known. */
export interface SeenTogether {
  /** Null while it is being computed, and where it could not be. */
  readonly together: Together | null;
  readonly isComputing: boolean;
}

/** The open build's readings seen together: asked for again when a reading, the bench or a part changes. */
export function useTogether(): SeenTogether {
  const { call } = useLink();
  const build = useShown(({ view }) => view?.build.build ?? null);
  const key = useShown(({ view }) =>
    view === null
      ? ''
      : JSON.stringify([
          ...[view.build.build, view.build.bench, view.build.fitted],
          Object.entries(view.build.readings).map(([id, { entries, counts }]) => [
            ...[id, entries.at(-1)?.seq, counts],
          ]),
        ]),
  );
  const [held, setHeld] = useState<{ readonly key: string; readonly value: Together | null } | null>(null);
  useEffect(() => {
    if (build === null) return undefined;
    let gone = false;
    void call('predict.together', { build }).then((answer) => {
      if (!gone) setHeld({ key, value: answer?.ok === true ? answer.value : null });
    });
    return () => {
      gone = true;
    };
  }, [build, call, key]);
  const isHeld = held?.key === key;
  return { together: isHeld ? held.value : null, isComputing: build !== null && !isHeld };
}
