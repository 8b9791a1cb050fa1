import type { Reach } from '../kit/kit.ts';
import type { SafetyState } from './energy-state.ts';
import type { SafetyEvent } from './events.ts';
import type { SafetyFacts } from './facts.ts';
import { lapseWith } from './lapse.ts';
import { foldWith, refusalsWith } from './machine.ts';
import { reachRefusalsOf } from './reach.ts';
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
