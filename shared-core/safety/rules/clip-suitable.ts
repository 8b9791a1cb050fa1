import type { Guard } from '../guard.ts';
import { clipOhms, clipWatts } from '../limits.ts';
import { refuse } from '../refusal.ts';

/** Rule 6: a discharge clip is 1 to 10 kΩ and 5 W or more, never bare wire. */
export const clipSuitable: Guard = {
  id: 'clip-suitable',
  check: ({ event }) => {
    if (event.kind !== 'clip-fitted') return [];
    if (event.ohms >= clipOhms.low && event.ohms <= clipOhms.high && event.watts >= clipWatts) return [];
    return [
      refuse(
        'safety/clip-unsuitable',
        'A discharge clip holds a resistor of 1 to 10 kΩ rated 5 W or more.',
        'Use a clip with a resistor of that size; never a bare wire or a screwdriver.',
        event.store,
      ),
    ];
  },
};
