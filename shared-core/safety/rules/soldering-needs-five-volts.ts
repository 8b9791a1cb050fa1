import type { SafetyEvent } from '../events.ts';
import type { SafetyFacts } from '../facts.ts';
import type { Guard } from '../guard.ts';
import { solderVolts } from '../limits.ts';
import { refuse } from '../refusal.ts';

/** Rule 7: the safe voltage permits touch; soldering asks for below 5 V on every store. */
export const solderingNeedsFiveVolts: Guard = {
  id: 'soldering-needs-five-volts',
  check: ({ state, event, facts }) => {
    const { energy } = state;
    if (energy.kind !== 'dead' || !isSoldering(event, facts)) return [];
    return facts.stores
      .map(({ part }) => ({
        part,
        volts: state.deadVolts[part] ?? (energy.proof === 'never plugged in' ? 0 : null),
      }))
      .filter(({ volts }) => volts === null || !(volts < solderVolts))
      .map(({ part, volts }) =>
        refuse(
          'safety/solder-volts',
          `Soldering needs less than ${solderVolts} V on ${part}; the last look was ${volts === null ? 'not taken' : `${volts} V`}.`,
          'Wait or fit a discharge clip, then measure the store again.',
          part,
        ),
      );
  },
};

function isSoldering(event: SafetyEvent, facts: SafetyFacts): boolean {
  if (event.kind === 'work-inside') return event.soldering;
  // Most repairs are made with the iron, and the event does not say.
  if (event.kind === 'repaired') return true;
  if (event.kind !== 'step-started' && event.kind !== 'step-done') return false;
  const step = facts.steps.find((each) => each.id === event.step);
  return step !== undefined && step.reach === 'inside' && step.action.kind === 'assemble' && !step.onlyValves;
}
