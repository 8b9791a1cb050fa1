import type { Guard } from '../guard.ts';
import { probeShowsVolts } from '../limits.ts';
import { refuse } from '../refusal.ts';

/**
 * Where nothing at all would be a good reading, a probe that touches nothing, or a broken lead, passes as well.
 *
 * So the probe is shown to read something first, with the plug in and the same leads.
 */
export const probeShownFirst: Guard = {
  id: 'probe-shown-first',
  check: ({ state: { energy, probeShown }, event, facts }) => {
    if (event.kind !== 'reading-entered' || energy.kind !== 'live' || probeShown) return [];
    if (event.entry.kind !== 'value' || Math.abs(event.entry.value) >= probeShowsVolts) return [];
    const reading = facts.readings.find((each) => each.id === event.reading);
    if (reading === undefined || !reading.readsLikeOpen) return [];
    return [
      refuse(
        'safety/probe-not-shown',
        `${reading.title}: a probe that touches nothing reads the same.`,
        'With the same leads, take a reading of this condition that shows a volt or more first, or measure the battery.',
        reading.id,
      ),
    ];
  },
};
