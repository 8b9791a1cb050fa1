import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** Rule 14: nothing is applied to the kit while energy may be inside. */
export const kitChangesWhenDead: Guard = {
  id: 'kit-changes-when-dead',
  check: ({ state: { energy }, event }) =>
    event.kind === 'kit-changed' && energy.kind !== 'dead'
      ? [
          refuse(
            'safety/kit-change-not-dead',
            'A change of the kit waits until the amplifier is proven dead.',
            'Pull the plug, measure every store, then accept the change.',
          ),
        ]
      : [],
};

/** An amplifier cannot be declared assembled while it is live. */
export const declaredWhenNotLive: Guard = {
  id: 'declared-when-not-live',
  check: ({ state: { energy }, event }) =>
    event.kind === 'declared-assembled' && energy.kind === 'live'
      ? [
          refuse(
            'safety/already-live',
            'The amplifier is plugged in.',
            'Pull the plug and confirm it before declaring how it was assembled.',
          ),
        ]
      : [],
};
