import type { Draining, Look, SafetyState } from '../../energy-state.ts';
import type { SafetyFacts } from '../../facts.ts';
import type { ProofRule } from '../../guard.ts';
import { isSameSetup } from '../../meter-setup.ts';
import { refuse, type Refusal } from '../../refusal.ts';

/** Rule 6: with the same leads, function and range for all looks, the meter was shown to work before the first … */
export const meterBefore: ProofRule = {
  id: 'proof/meter-before',
  unmet: (draining, state, facts) =>
    meterMissing(
      draining,
      state,
      facts,
      (ticks, proofTick) => proofTick <= Math.min(...ticks),
      'before the first look',
    ),
};

/** … and after the last. */
export const meterAfter: ProofRule = {
  id: 'proof/meter-after',
  unmet: (draining, state, facts) =>
    meterMissing(
      draining,
      state,
      facts,
      (ticks, proofTick) => proofTick >= Math.max(...ticks),
      'after the last look',
    ),
};

function meterMissing(
  draining: Draining,
  _: SafetyState,
  facts: SafetyFacts,
  isInTime: (ticks: readonly number[], proofTick: number) => boolean,
  when: string,
): readonly Refusal[] {
  const looks = countingLooks(draining, facts);
  const ticks = looks.map((look) => look.stamp.tick);
  const isShown = draining.meterProofs.some(
    (proof) =>
      looks.every((look) => isSameSetup(look.setup, proof.setup)) && isInTime(ticks, proof.stamp.tick),
  );
  if (looks.length > 0 && isShown) return [];
  return [
    refuse(
      'safety/meter-not-shown',
      `The meter has not been shown to work ${when}.`,
      'Measure the battery with the same leads, function and range, or see a store fall; looks taken before that are taken again.',
    ),
  ];
}

/** The looks that a proof rests on. */
function countingLooks(draining: Draining, { stores }: SafetyFacts): readonly Look[] {
  return stores.flatMap(({ part }) => {
    const progress = draining.stores[part];
    return [progress?.first, progress?.second].filter((look): look is Look => look != null);
  });
}
