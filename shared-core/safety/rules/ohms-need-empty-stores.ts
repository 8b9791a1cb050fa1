import type { Guard } from '../guard.ts';
import { ohmsVolts } from '../limits.ts';
import { isLiveReading } from '../lookup.ts';
import { refuse } from '../refusal.ts';

/** Rule 7: ohms below 0.5 V on the stores joined to the place, their clips off while measuring. */
export const ohmsNeedEmptyStores: Guard = {
  id: 'ohms-need-empty-stores',
  check: ({ state, event, facts }) => {
    if (event.kind !== 'reading-entered' || state.energy.kind !== 'dead') return [];
    const reading = facts.readings.find((each) => each.id === event.reading);
    if (reading === undefined || isLiveReading(reading, facts)) return [];
    const { energy } = state;
    return reading.joinedStores.flatMap((store) => {
      if (state.clips[store] !== undefined) {
        return [
          refuse(
            'safety/clip-fitted',
            `The discharge clip is still on ${store} and would be measured as well.`,
            'Take the clip off and record it, then measure.',
            store,
          ),
        ];
      }
      const volts = state.deadVolts[store] ?? (energy.proof === 'never plugged in' ? 0 : null);
      if (volts !== null && volts < ohmsVolts) return [];
      return [
        refuse(
          'safety/ohms-volts',
          `Ohms here need less than ${ohmsVolts} V on ${store}; the last look was ${volts === null ? 'not taken' : `${volts} V`}.`,
          'Drain the store further, measure its volts again, then measure ohms.',
          store,
        ),
      ];
    });
  },
};
