import type { Reach } from '../kit/kit.ts';
import type { SafetyState } from './energy-state.ts';
import type { SafetyEvent } from './events.ts';
import type { SafetyFacts } from './facts.ts';
import { lapseWith } from './lapse.ts';
import { foldWith, refusalsWith } from './machine.ts';
import { reachRefusalsOf } from './reach.ts';
import { reduceRepaired } from './reduce-work.ts';
import type { Refusal } from './refusal.ts';
import { rulebook } from './rulebook.ts';
import { unmetProofs } from './settle.ts';
import type { Stamp } from './stamp.ts';

/**
 * The state after an event.
 *
 * Total and pure. An event that the rules refuse changes nothing; only its clock is heard.
 */
export function foldSafety(
  state: SafetyState,
  event: SafetyEvent,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  return foldWith(rulebook, state, event, stamp, facts);
}

/** Everything that stands in an event's way now; empty when it is allowed. */
export function refusals(
  state: SafetyState,
  event: SafetyEvent,
  stamp: Stamp,
  facts: SafetyFacts,
): readonly Refusal[] {
  return refusalsWith(rulebook, state, event, stamp, facts);
}

/** The state as it stands now, with the lapses that time alone brings. */
export function safetyAt(state: SafetyState, now: Stamp): SafetyState {
  return lapseWith(rulebook.lapses, state, now, null);
}

/** Whether a hand may go this far now. */
export function mayReach(state: SafetyState, reach: Reach, now: Stamp): boolean {
  return reachRefusals(state, reach, now).length === 0;
}

/** Why a hand may not go this far now. */
export function reachRefusals(state: SafetyState, reach: Reach, now: Stamp): readonly Refusal[] {
  return reachRefusalsOf(safetyAt(state, now), reach);
}

/** What the proof still needs, in the order to do it; empty unless `draining`. */
export function drainNeeds(state: SafetyState, now: Stamp, facts: SafetyFacts): readonly Refusal[] {
  const current = safetyAt(state, now);
  return current.energy.kind === 'draining'
    ? unmetProofs(rulebook.proofs, current.energy, current, facts)
    : [];
}

/**
 * Readings that would be asked for again if these were repaired at these places; nothing is changed.
 *
 * Places that no net of the kit has are left out.
 */
export function askedAgainAfter(
  state: SafetyState,
  readings: readonly string[],
  places: readonly string[],
  facts: SafetyFacts,
): readonly string[] {
  const known = places.filter((place) => facts.netOf[place] !== undefined);
  const event = { kind: 'repaired', what: '', by: 'hand', readings, places: known } as const;
  const after = reduceRepaired(state, event, facts);
  const lost = Object.keys(state.readings).filter(
    (id) => state.readings[id]?.counts === true && after.readings[id]?.counts === false,
  );
  return [...new Set([...lost, ...(after.afterWork?.readings ?? [])])];
}
