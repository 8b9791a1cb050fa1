import { guardPlugIn } from '../../guard.ts';
import { refuse } from '../../refusal.ts';

/** Rule 2: every discharge clip is recorded as taken off; the black lead stays. */
export const clipsOff = guardPlugIn('plug-in/clips-off', ({ state }) =>
  Object.keys(state.clips).map((store) =>
    refuse(
      'safety/clip-fitted',
      `The discharge clip on ${store} is still on.`,
      'Take it off and record it. The black lead stays.',
      store,
    ),
  ),
);

/** Rule 1: the black lead is clipped before any supply is connected, the insulation tester's own included. */
export const blackLeadClipped = guardPlugIn('plug-in/black-lead-clipped', ({ state }, condition) => {
  if (state.blackLeadClipped) return [];
  const isTester = condition.supply === 'insulation-tester';
  return [
    refuse(
      'safety/black-lead-first',
      `The black lead ${isTester ? 'of the tester' : 'of the meter'} is not recorded as clipped.`,
      `Clip it to the ${isTester ? 'chassis' : 'signal earth'} while nothing is connected, and confirm it.`,
    ),
  ];
});

/** Rule 2: the mains switch is off before the plug goes in; the insulation tester has no plug and needs it on. */
export const mainsSwitchOff = guardPlugIn('plug-in/mains-switch-off', ({ state }, condition) =>
  state.mainsSwitchOff || condition.supply === 'insulation-tester'
    ? []
    : [
        refuse(
          'safety/mains-switch-not-off',
          'The mains switch is not confirmed off.',
          'Switch it off, then confirm it.',
        ),
      ],
);

/** Rule 2: this condition's cautions are acknowledged this time. */
export const cautionsAcknowledged = guardPlugIn('plug-in/cautions-acknowledged', ({ state }, condition) =>
  condition.cautions
    .filter((caution) => state.acknowledged[caution.id] === undefined)
    .map((caution) =>
      refuse(
        'safety/caution-not-acknowledged',
        `Not acknowledged this time: ${caution.text}`,
        'Read it and acknowledge it.',
        caution.id,
      ),
    ),
);
