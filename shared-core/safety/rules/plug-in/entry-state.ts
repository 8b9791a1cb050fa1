import { guardPlugIn } from '../../guard.ts';
import { isSupplied } from '../../lookup.ts';
import { refuse } from '../../refusal.ts';

/** One supply at a time: `live` is entered from `dead` or `draining`. */
export const notAlreadyLive = guardPlugIn('plug-in/not-already-live', ({ state }) =>
  state.energy.kind === 'live'
    ? [
        refuse(
          'safety/already-live',
          'The amplifier is plugged in already.',
          'Pull the plug and confirm it before another condition.',
        ),
      ]
    : [],
);

/** A condition without a supply is not something to plug in. */
export const conditionHasSupply = guardPlugIn('plug-in/condition-has-supply', (_, condition) =>
  isSupplied(condition)
    ? []
    : [
        refuse(
          'safety/wrong-condition',
          `“${condition.title}” is a condition with the plug out.`,
          'Choose a condition that has a supply.',
          condition.id,
        ),
      ],
);

/** Rule 8: from `draining` only the same condition, same run, untouched, at a known time. */
export const reentryOnlyUntouched = guardPlugIn('plug-in/reentry-only-untouched', ({ state }, condition) => {
  const { energy } = state;
  if (energy.kind !== 'draining') return [];
  const isSame =
    energy.from === condition.id &&
    energy.timeKnown &&
    energy.plugOut !== null &&
    energy.untouched &&
    !energy.mustProve;
  return isSame
    ? []
    : [
        refuse(
          'safety/reentry',
          'The amplifier has to be proven dead before this condition.',
          'Confirm the plug out, measure every store, then plug in.',
          condition.id,
        ),
      ];
});
