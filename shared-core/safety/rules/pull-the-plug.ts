import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

const stillHeard = new Set([
  'plug-out-confirmed',
  'something-wrong',
  'found-plugged-in',
  'run-started',
  'heartbeat',
  'journal-cut',
]);

/** Rules 9 and 10: past a stop limit, or with something wrong, the only action is to pull the plug. */
export const pullThePlug: Guard = {
  id: 'pull-the-plug',
  check: ({ state: { energy }, event }) => {
    if (energy.kind !== 'live' || energy.mustPull === null || stillHeard.has(event.kind)) return [];
    const why =
      energy.mustPull.kind === 'stop'
        ? `${energy.mustPull.reading} is past its stop limit`
        : 'something is wrong';
    return [
      refuse(
        'safety/pull-the-plug',
        `Pull the plug now: ${why}.`,
        'Pull the plug, lay it in sight, then confirm that it is out. Everything else waits.',
      ),
    ];
  },
};
