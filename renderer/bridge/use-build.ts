import { useCallback } from 'react';
import type { BuilderAction, BuildView } from '../../shared-core/contract/calls.ts';
import type { SafetyState } from '../../shared-core/safety/energy-state.ts';
import type { SafetyEvent } from '../../shared-core/safety/events.ts';
import type { Refusal } from '../../shared-core/safety/refusal.ts';
import { refusals, safetyAt } from '../../shared-core/safety/safety.ts';
import type { Stamp } from '../../shared-core/safety/stamp.ts';
import { isKnown, nowOf } from './link.ts';
import { useLink, useShown } from './link-context.ts';

/** The open build as screens use it; everything that is allowed or not comes from the core's rules. */
export interface Build extends BuildView {
  /** The energy state as it stands at this moment. */
  readonly safety: SafetyState;
  readonly now: Stamp;
  /** False: *State unknown: treat as live*; nothing may be written. */
  readonly known: boolean;
  readonly act: (action: BuilderAction) => Promise<boolean>;
  readonly refusalsOf: (event: SafetyEvent) => readonly Refusal[];
}

/** The open build; null when none is open. Renders again at every look at the clock. */
export function useBuild(): Build | null {
  const { act } = useLink();
  const view = useShown((state) => state.view);
  const known = useShown(isKnown);
  const run = useShown((state) => nowOf(state).run);
  const tick = useShown((state) => nowOf(state).tick);
  const at = useShown((state) => nowOf(state).at);
  const guarded = useCallback(
    (action: BuilderAction) => (known ? act(action) : Promise.resolve(false)),
    [act, known],
  );
  if (view === null) return null;
  const now = { at, run, tick };
  const { safety } = view.build;
  return {
    ...view,
    now,
    known,
    safety: safetyAt(safety, now),
    act: guarded,
    refusalsOf: (event) => refusals(safety, event, now, view.facts),
  };
}
