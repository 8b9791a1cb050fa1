import { useEffect, useState } from 'react';
import type { ExplainAnswer } from '../../shared-core/contract/calls.ts';
import type { Explanation } from '../../shared-core/faults/explain.ts';
import type { BuildState } from '../../shared-core/journal/build-state.ts';
import { useLink, useShown } from './link-context.ts';

/** What may explain the readings, as far as known. */
export interface Explained {
  /** Null while it is worked out, and where it could not be. */
  readonly explanation: Explanation | null;
  /** How far it has come, 0 to 1; null when it is not being worked out. */
  readonly progress: number | null;
}

/** Pause between two looks at how far it has come, in milliseconds (ms). */
const pauseMs = 150;

/**
 * What may explain the open build's readings: asked for again when one of them, a sign, the bench or the energy
 * state changes. While the list of faults is made it says how far it is, and nothing waits for it.
 *
 * @param isWanted False asks nothing.
 * @param without Measurements and actions that the builder cannot do.
 */
export function useExplanation(isWanted: boolean, without: readonly string[] = []): Explained {
  const { call } = useLink();
  const build = useShown(({ view }) => view?.build.build ?? null);
  const key = useShown(({ view }) => (view === null || !isWanted ? null : keyOf(view.build, without)));
  const [held, setHeld] = useState<{ readonly key: string; readonly answer: ExplainAnswer | null } | null>(
    null,
  );
  useEffect(() => {
    if (build === null || key === null) return undefined;
    let gone = false;
    const ask = async (): Promise<void> => {
      while (!gone) {
        const answer = await call('explain.readings', { build, without: withoutOf(key) });
        if (gone) return;
        const found = answer?.ok === true ? answer.value : null;
        setHeld({ key, answer: found });
        if (found?.kind !== 'under way') return;
        await new Promise((resolve) => setTimeout(resolve, pauseMs));
      }
    };
    void ask();
    return () => {
      gone = true;
    };
  }, [build, call, key]);
  const answer = held !== null && held.key === key ? held.answer : undefined;
  if (key === null || answer === null) return { explanation: null, progress: null };
  if (answer === undefined) return { explanation: null, progress: 0 };
  if (answer.kind === 'under way') return { explanation: null, progress: answer.done / answer.of };
  return { explanation: answer.kind === 'ready' ? answer.explanation : null, progress: null };
}

/** Everything that the answer depends on; what is left out comes first. */
function keyOf(build: BuildState, without: readonly string[]): string {
  const { energy } = build.safety;
  const readings = Object.entries(build.readings).map(([id, { entries, counts, settled }]) => [
    ...[id, entries.at(-1)?.seq, counts, settled],
  ]);
  return JSON.stringify([
    ...[without, build.build, build.bench, build.fitted, readings, build.measuredPlaces?.length],
    ...[build.repairs.length, build.wrongs, energy.kind, energy.kind === 'live' ? energy.condition : null],
  ]);
}

function withoutOf(key: string): readonly string[] {
  return (JSON.parse(key) as readonly [readonly string[]])[0];
}
