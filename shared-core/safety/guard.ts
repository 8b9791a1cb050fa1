import type { ConditionFacts, SafetyFacts } from './facts.ts';
import type { Draining, SafetyState } from './energy-state.ts';
import type { PluggedIn, SafetyEvent } from './events.ts';
import type { Refusal } from './refusal.ts';
import type { Means, Stamp } from './stamp.ts';

/** What a guard looks at: the state is already lapsed to `stamp`. */
export interface Asked {
  readonly state: SafetyState;
  readonly event: SafetyEvent;
  readonly stamp: Stamp;
  readonly facts: SafetyFacts;
}

/** One rule that can refuse an event. */
export interface Guard {
  readonly id: string;
  readonly check: (asked: Asked) => readonly Refusal[];
}

/** One thing that a proof of an empty amplifier needs. */
export interface ProofRule {
  readonly id: string;
  readonly unmet: (draining: Draining, state: SafetyState, facts: SafetyFacts) => readonly Refusal[];
}

/** One reason for which a proof stops being one. */
export interface LapseRule {
  readonly id: string;
  readonly lapses: (
    state: SafetyState,
    now: Stamp,
    event: SafetyEvent | null,
  ) => 'closed' | 'asleep or clock set' | 'idle' | null;
}

/** All rules together. Production code has exactly one: `rulebook.ts`. */
export interface Rulebook {
  readonly guards: readonly Guard[];
  readonly proofs: readonly ProofRule[];
  readonly lapses: readonly LapseRule[];
}

/**
 * A guard of the plug-in: it sees the event only when it is one, and its condition is known.
 *
 * An unknown condition is refused by its own guard.
 */
export function guardPlugIn(
  id: string,
  check: (asked: Asked, condition: ConditionFacts, event: PluggedIn) => readonly Refusal[],
): Guard {
  return {
    id,
    check: (asked) => {
      const { event, facts } = asked;
      if (event.kind !== 'plugged-in') return [];
      const condition = facts.conditions.find((each) => each.id === event.condition);
      return condition === undefined ? [] : check(asked, condition, event);
    },
  };
}

/** How the event was given; null for events that nobody gives. */
export function meansOf(event: SafetyEvent): Means | null {
  return 'by' in event ? event.by : null;
}
