import type { SafetyEvent } from '../../../shared-core/safety/events.ts';
import type { Rulebook } from '../../../shared-core/safety/guard.ts';
import type { RefusalCode } from '../../../shared-core/safety/refusal.ts';
import { unmetProofs } from '../../../shared-core/safety/settle.ts';
import type { Fields } from '../journey.ts';
import type { ScriptedSafety } from '../scripted-safety.ts';
import { draining, provenDead } from './stages.ts';

/** A story in which one rule has to speak up. */
export interface Scenario {
  readonly name: string;
  /** The rule that this story is about. */
  readonly rule: string;
  /** True when the machine did the safe thing. */
  readonly isSafe: (rules: Rulebook) => boolean;
}

/** A story that ends with an event that has to be refused with a code. */
export function refused<Kind extends SafetyEvent['kind']>(
  rule: string,
  name: string,
  start: (rules: Rulebook) => ScriptedSafety,
  kind: Kind,
  fields: Partial<Fields<Kind>>,
  code: RefusalCode,
): Scenario {
  return { rule, name, isSafe: (rules) => start(rules).codes(kind, fields).includes(code) };
}

/** A story after which no hand may go inside. */
export function closed(rule: string, name: string, tell: (amp: ScriptedSafety) => void): Scenario {
  return {
    rule,
    name,
    isSafe: (rules) => {
      const amp = draining(rules);
      tell(amp);
      return !amp.mayInside();
    },
  };
}

/** A story in which a proof held, until time or the app took it away. */
export function lapsing(rule: string, name: string, tell: (amp: ScriptedSafety) => void): Scenario {
  return {
    rule,
    name,
    isSafe: (rules) => {
      const amp = provenDead(rules);
      if (!amp.mayInside()) return false;
      tell(amp);
      return !amp.mayInside();
    },
  };
}

/** What the proof still asks for. */
export function needsOf(amp: ScriptedSafety, rules: Rulebook): readonly RefusalCode[] {
  const state = amp.safety();
  if (state.energy.kind !== 'draining') return [];
  return unmetProofs(rules.proofs, state.energy, state, amp.facts).map((each) => each.code);
}
