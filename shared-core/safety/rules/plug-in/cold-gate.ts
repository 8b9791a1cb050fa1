import type { GateProof } from '../../../kit/kit.ts';
import { guardPlugIn } from '../../guard.ts';
import { isInBand } from '../../lookup.ts';
import { refuse } from '../../refusal.ts';

/** Proofs that no kit can leave out. The others count where the kit has readings for them. */
const alwaysNeeded: readonly GateProof[] = ['earth-bond', 'line-apart', 'neutral-apart', 'primary'];

/** Rule 3: the cold readings before the first plug-in and after work on the mains side. */
export const coldGate = guardPlugIn('plug-in/cold-gate', ({ state, facts }) => {
  const unproven = alwaysNeeded
    .filter((proof) => !facts.readings.some((each) => each.proves === proof))
    .map((proof) =>
      refuse(
        'safety/gate-not-met',
        `The kit has no reading that proves “${proof}”.`,
        'The kit file is not complete: ask its maker.',
        proof,
      ),
    );
  const unread = facts.readings
    .filter((each) => each.proves !== null && each.proves !== 'insulation' && !isInBand(each.id, state))
    .map((each) =>
      refuse(
        'safety/gate-not-met',
        `${each.title} is not passed since the last work on it.`,
        'Take this reading with the plug out, and settle it.',
        each.id,
      ),
    );
  return [...unproven, ...unread];
});

/** Rule 3: insulation is measured with 500 V, or recorded as NOT tested. */
export const insulationSettled = guardPlugIn('plug-in/insulation-settled', ({ state, facts }, condition) => {
  if (condition.supply === 'insulation-tester' || state.gate.insulationNotTested) return [];
  const readings = facts.readings.filter((each) => each.proves === 'insulation');
  if (readings.length > 0 && readings.every((each) => isInBand(each.id, state))) return [];
  return [
    refuse(
      'safety/insulation-not-settled',
      'Insulation is neither measured nor recorded as not tested.',
      'Measure it at 500 V, or record “insulation NOT tested”: that is printed in the report.',
    ),
  ];
});

/** Rule 3: the marking on each mains fuse is read back. */
export const fusesRead = guardPlugIn('plug-in/fuses-read', ({ state, facts }) =>
  facts.fuses
    .filter((fuse) => fuse.mainsSide && !state.gate.fusesRead.includes(fuse.part))
    .map((fuse) =>
      refuse(
        'safety/fuse-not-read',
        `The marking on ${fuse.part} has not been read back.`,
        'Type what is printed on the fuse itself.',
        fuse.part,
      ),
    ),
);
