import type { Guard } from '../guard.ts';
import { conditionOf, isLiveReading } from '../lookup.ts';
import { refuse } from '../refusal.ts';

/** A live reading belongs to the one condition it was predicted for. */
export const readingInItsCondition: Guard = {
  id: 'reading-in-its-condition',
  check: ({ state: { energy }, event, facts }) => {
    if (event.kind !== 'reading-entered') return [];
    const reading = facts.readings.find((each) => each.id === event.reading);
    if (reading === undefined || !isLiveReading(reading, facts)) return [];
    if (energy.kind === 'live' && energy.condition === reading.in) return [];
    const title = conditionOf(reading, facts)?.title ?? reading.in;
    return [
      refuse(
        'safety/wrong-condition',
        `${reading.title} is taken in the condition “${title}”, and the amplifier is not in it.`,
        'Bring the amplifier into that condition first.',
        reading.id,
      ),
    ];
  },
};
