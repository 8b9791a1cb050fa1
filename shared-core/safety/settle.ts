import type { Draining, SafetyState } from './energy-state.ts';
import type { SafetyFacts } from './facts.ts';
import type { ProofRule } from './guard.ts';
import type { Refusal } from './refusal.ts';
import type { Stamp } from './stamp.ts';

/** Everything a proof still needs, in the order to do it. */
export function unmetProofs(
  rules: readonly ProofRule[],
  draining: Draining,
  state: SafetyState,
  facts: SafetyFacts,
): readonly Refusal[] {
  return rules.flatMap((rule) => rule.unmet(draining, state, facts));
}

/** The only way from `draining` to `dead`: nothing is left unmet. */
export function settleWith(
  rules: readonly ProofRule[],
  state: SafetyState,
  stamp: Stamp,
  facts: SafetyFacts,
): SafetyState {
  const { energy } = state;
  if (energy.kind !== 'draining' || unmetProofs(rules, energy, state, facts).length > 0) return state;
  return {
    ...state,
    energy: { kind: 'dead', since: stamp, proof: 'measured', stores: energy.stores },
    deadVolts: Object.fromEntries(
      Object.entries(energy.stores).flatMap(([part, { looks }]) => {
        const last = looks.at(-1);
        return last === undefined ? [] : [[part, last.volts]];
      }),
    ),
  };
}
