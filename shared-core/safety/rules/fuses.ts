import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** Rule 10: both sides of a fuse are proven before it is touched. */
export const fuseSidesFirst: Guard = {
  id: 'fuse-sides-first',
  check: ({ state, event }) => {
    if (event.kind !== 'fuse-replaced' || state.fuseSidesProven.includes(event.part)) return [];
    return [
      refuse(
        'safety/fuse-sides',
        `Both sides of ${event.part} have not been measured.`,
        'Measure from each side of the fuse to the chassis; both have to be below the safe voltage.',
        event.part,
      ),
    ];
  },
};

/** Rules 3 and 10: same rating and type, as printed on it. */
export const fuseAsKit: Guard = {
  id: 'fuse-as-kit',
  check: ({ event, facts }) => {
    if (event.kind !== 'fuse-replaced' && event.kind !== 'fuse-read') return [];
    const fuse = facts.fuses.find((each) => each.part === event.part);
    if (fuse === undefined) return [];
    if (Math.abs(fuse.amps - event.amps) <= 1e-9 && fuse.speed === event.speed) return [];
    return [
      refuse(
        'safety/fuse-differs',
        `${event.part} is ${fuse.speed} ${fuse.amps} A in this kit, not ${event.speed} ${event.amps} A.`,
        'Fit a fuse of the same rating and type.',
        event.part,
      ),
    ];
  },
};

/** Rule 10: replaced once; a second blown fuse is a fault to be found. */
export const fuseReplacedOnce: Guard = {
  id: 'fuse-replaced-once',
  check: ({ state, event }) => {
    if (event.kind !== 'fuse-replaced' || !state.fusesReplaced.includes(event.part)) return [];
    return [
      refuse(
        'safety/fuse-replaced-once',
        `${event.part} has been replaced once already.`,
        'Something blows it. Find and repair the fault, record the repair, then replace it.',
        event.part,
      ),
    ];
  },
};
