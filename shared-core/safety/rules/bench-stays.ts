import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** Meter, leads and mains of a plug-in are those that its gates were passed with, until the plug is out. */
export const benchStaysWhileLive: Guard = {
  id: 'bench-stays-while-live',
  check: ({ state: { energy }, event }) =>
    event.kind === 'bench-recorded' && energy.kind === 'live'
      ? [
          refuse(
            'safety/already-live',
            'The bench is not changed while the amplifier is plugged in.',
            'Pull the plug and confirm it, then change the bench.',
          ),
        ]
      : [],
};
