import { guardPlugIn } from '../../guard.ts';
import { conditionOf, conditionOrder, isBlocking, isSupplied } from '../../lookup.ts';
import { refuse } from '../../refusal.ts';

/**
 * Rule 2: every blocking verdict is settled.
 *
 * A reading that was repaired but not yet read again lets the builder up to its own condition, to read it.
 */
export const verdictsSettled = guardPlugIn('plug-in/verdicts-settled', ({ state, facts }, condition) =>
  Object.entries(state.readings)
    .filter(([id, standing]) => {
      if (!isBlocking(standing.verdict)) return false;
      if (standing.settled === 'settled' || standing.settled === 'accepted') return false;
      if (standing.settled === 'open') return true;
      const reading = facts.readings.find((each) => each.id === id);
      const own = reading === undefined ? undefined : conditionOf(reading, facts);
      if (own === undefined || !isSupplied(own)) return true;
      return conditionOrder(condition.id, facts) > conditionOrder(own.id, facts);
    })
    .map(([id, standing]) =>
      refuse(
        'safety/verdict-open',
        `${id} was “${standing.verdict}” and is not settled.`,
        standing.settled === 'repaired'
          ? 'Read it again.'
          : 'Repair and read again; out of band can also be accepted with a reason.',
        id,
      ),
    ),
);
