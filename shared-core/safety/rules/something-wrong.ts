import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** Rule 10: first the plug, then say what it was. */
export const plugBeforeWords: Guard = {
  id: 'plug-before-words',
  check: ({ state: { energy, wrong }, event }) => {
    if (event.kind !== 'wrong-described') return [];
    const isOut = energy.kind === 'dead' || (energy.kind === 'draining' && energy.plugOut !== null);
    if (!isOut) {
      return [
        refuse(
          'safety/plug-not-confirmed-out',
          'First the plug, then the words.',
          'Pull the plug, lay it in sight and confirm it.',
        ),
      ];
    }
    if (wrong !== null && event.signs.length > 0) return [];
    return [
      refuse('safety/wrong-not-described', 'Nothing is named that went wrong.', 'Choose what you noticed.'),
    ];
  },
};

/** *Something is wrong* is for an amplifier that may be supplied. */
export const wrongWhileSupplied: Guard = {
  id: 'wrong-while-supplied',
  check: ({ state: { energy }, event }) =>
    event.kind === 'something-wrong' && energy.kind === 'dead'
      ? [
          refuse(
            'safety/not-live',
            'The amplifier is recorded as dead.',
            'If its plug is in, say that it was found plugged in; else write a note.',
          ),
        ]
      : [],
};
