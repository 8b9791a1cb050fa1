import type { SafetyState } from './energy-state.ts';
import type { SafetyEvent } from './events.ts';
import type { SafetyFacts } from './facts.ts';
import { meansOf, type Rulebook } from './guard.ts';
import { lapseWith } from './lapse.ts';
import { reduce } from './reduce.ts';
import type { Refusal } from './refusal.ts';
import { settleWith } from './settle.ts';
import type { Stamp } from './stamp.ts';

/** Every refusal of an event under a rulebook. Only `safety.ts` and the tests of the rules call this. */
export function refusalsWith(
  rulebook: Rulebook,
  state: SafetyState,
  event: SafetyEvent,
  stamp: Stamp,
  facts: SafetyFacts,
): readonly Refusal[] {
  const now = lapseWith(rulebook.lapses, state, stamp, event);
  return rulebook.guards.flatMap((guard) => guard.check({ state: now, event, stamp, facts }));
}

/**
 * The state after an event under a rulebook.
 *
 * The clock is heard even when the event is refused: time alone can end a proof, never give one.
 */
export function foldWith(
  rulebook: Rulebook,
  state: SafetyState,
  event: SafetyEvent,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  const now = lapseWith(rulebook.lapses, state, stamp, event);
  if (rulebook.guards.some((guard) => guard.check({ state: now, event, stamp, facts }).length > 0))
    return now;
  const reduced = reduce(now, event, stamp, facts);
  const means = meansOf(event);
  const isByPerson = means === 'hand' || means === 'voice' || means === 'foot';
  const stamped: SafetyState = {
    ...reduced,
    last: stamp,
    lastByPerson: isByPerson ? stamp : reduced.lastByPerson,
  };
  return settleWith(rulebook.proofs, stamped, stamp, facts);
}
