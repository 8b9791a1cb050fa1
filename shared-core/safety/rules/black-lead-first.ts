import type { Guard } from '../guard.ts';
import { hookVolts } from '../limits.ts';
import { isLiveReading } from '../lookup.ts';
import { refuse } from '../refusal.ts';

/** Rule 1: the black lead is clipped to the chassis before a discharge clip or a probe. */
export const blackLeadFirst: Guard = {
  id: 'black-lead-first',
  check: ({ state, event, facts }) => {
    if (state.blackLeadClipped) return [];
    const reading =
      event.kind === 'reading-entered' ? facts.readings.find((each) => each.id === event.reading) : undefined;
    const isLiveProbe = reading !== undefined && isLiveReading(reading, facts);
    const isDrainLook = event.kind === 'store-look' && state.energy.kind === 'draining';
    if (event.kind !== 'clip-fitted' && !isDrainLook && !isLiveProbe) return [];
    return [
      refuse(
        'safety/black-lead-first',
        'The black lead is not recorded as clipped to the chassis.',
        'With the plug out, clip the black lead to the chassis and confirm it. The other hand stays away.',
      ),
    ];
  },
};

/** Rule 1: above 60 V hooks are used, unless the builder chose hand-held, which is recorded. */
export const probeStyleChosen: Guard = {
  id: 'probe-style-chosen',
  check: ({ state, event, facts }) => {
    if (event.kind !== 'reading-entered' || state.probeStyle !== null) return [];
    const reading = facts.readings.find((each) => each.id === event.reading);
    if (reading === undefined || !isLiveReading(reading, facts)) return [];
    if (reading.probeVolts !== null && Math.abs(reading.probeVolts) <= hookVolts) return [];
    return [
      refuse(
        'safety/probe-style',
        `${reading.title} is above ${hookVolts} V: hooks or hand-held has not been chosen.`,
        'Choose hooks, or say that you hold the probe by hand. The choice is printed in the report.',
        reading.id,
      ),
    ];
  },
};
