import type { Guard } from '../guard.ts';
import { isInBand } from '../lookup.ts';
import { refuse } from '../refusal.ts';

/** Rule 4: a fixed-bias output valve goes into its socket only after its bias was read in band. */
export const valveAfterBias: Guard = {
  id: 'valve-after-bias',
  check: ({ state, event, facts }) => {
    if (event.kind !== 'valve-fitted') return [];
    const bias = facts.fixedBias.find((each) => each.socket === event.socket);
    if (bias === undefined) return [];
    const isRead = bias.readings.length > 0 && bias.readings.every((each) => isInBand(each, state));
    if (isRead && bias.adjusters.every((each) => state.adjustersMostNegative.includes(each))) return [];
    return [
      refuse(
        'safety/bias-not-proven',
        `${event.socket} stays empty until the bias at its grid pin is read in band, adjusters at most negative.`,
        'Turn the adjusters to most negative and read the bias with the valve out.',
        event.socket,
      ),
    ];
  },
};
