import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** Rule 6: after a look that is too low, place, DC function, range, hold and leads are all checked. */
export const lookCheckedInFull: Guard = {
  id: 'look-checked-in-full',
  check: ({ event }) => {
    if (event.kind !== 'look-checked') return [];
    if (event.place && event.dcFunction && event.range && event.hold && event.leads) return [];
    return [
      refuse(
        'safety/look-not-checked',
        `Not everything about the look at ${event.store} has been checked.`,
        'Check the place, DC volts, the range, that hold is off, and the leads. If one was wrong, measure again.',
        event.store,
      ),
    ];
  },
};
