import type { SafetyEvent } from '../events.ts';
import { meansOf, type Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** Rule 12: voice, foot key, key repeat and instruments acknowledge, confirm and settle nothing. */
export const byHand: Guard = {
  id: 'by-hand',
  check: ({ event, facts }) => {
    const means = meansOf(event);
    if (means === null || means === 'hand') return [];
    const isProof =
      event.kind === 'reading-entered' &&
      facts.readings.find((each) => each.id === event.reading)?.proves != null;
    if (!isProof && mayComeOtherwise(event, means)) return [];
    return [
      refuse(
        'safety/by-hand-only',
        `This came from ${nameOf[means]}; it has to be confirmed by hand.`,
        'Press the key on the screen once, by hand.',
      ),
    ];
  },
};

const nameOf = {
  voice: 'the microphone',
  foot: 'the foot key',
  repeat: 'a key held down',
  instrument: 'an instrument',
} as const;

/** Alarms come by any means; numbers by voice and foot too. What an instrument offers, a hand enters. */
function mayComeOtherwise(event: SafetyEvent, means: keyof typeof nameOf): boolean {
  if (event.kind === 'something-wrong' || event.kind === 'found-plugged-in') return true;
  if (means === 'repeat' || means === 'instrument') return false;
  return event.kind === 'reading-entered' || event.kind === 'step-started';
}
