import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

const looks = new Set(['store-look', 'look-checked', 'fuse-sides-looked']);

/** Rule 5 before rule 6: a look proves something only once the plug is out and in sight. */
export const looksAfterPlugOut: Guard = {
  id: 'looks-after-plug-out',
  check: ({ state: { energy }, event }) => {
    if (!looks.has(event.kind) || energy.kind === 'dead') return [];
    if (energy.kind === 'draining' && energy.plugOut !== null) return [];
    return [
      refuse(
        'safety/plug-not-confirmed-out',
        'A look at a store counts only once the plug is out and in sight.',
        'Pull the plug out of the wall, lay it where you see it and confirm it. A switch is not enough.',
      ),
    ];
  },
};

/** Rule 6: a store is measured on DC volts. */
export const looksOnDcVolts: Guard = {
  id: 'looks-on-dc-volts',
  check: ({ event }) => {
    const isLook = event.kind === 'store-look' || event.kind === 'meter-shown-to-work';
    if (!isLook || event.setup.function === 'dc volts') return [];
    return [
      refuse(
        'safety/look-not-dc',
        `The meter stands on ${event.setup.function}: a charged store can read nothing there.`,
        'Set the meter to DC volts.',
      ),
    ];
  },
};
