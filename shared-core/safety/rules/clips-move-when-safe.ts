import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

const moves = new Set(['clip-fitted', 'clip-removed', 'black-lead-clipped']);

/** Rule 1: hooks and clips move in `dead`, or in `draining` once the plug is confirmed out. */
export const clipsMoveWhenSafe: Guard = {
  id: 'clips-move-when-safe',
  check: ({ state: { energy }, event }) => {
    if (!moves.has(event.kind) || energy.kind === 'dead') return [];
    if (energy.kind === 'draining' && energy.plugOut !== null) return [];
    return [
      refuse(
        'safety/plug-not-confirmed-out',
        'Clips are fitted and moved only with the plug out and in sight.',
        'Pull the plug, lay it in sight and confirm it; then one hand, holding the insulated body.',
      ),
    ];
  },
};
