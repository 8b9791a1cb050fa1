import type { SafetyEvent } from '../events.ts';
import type { SafetyFacts } from '../facts.ts';
import { meansOf, type Guard } from '../guard.ts';
import { readingsOfStep } from '../lookup.ts';
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
    if (!isProof && (mayComeOtherwise(event, means) || isOnlyGoingOn(event, means, facts))) return [];
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

/**
 * A foot may go on from a step that its readings alone make done.
 *
 * All of them were entered by hand and passed, or `stepReallyDone` refuses; none of them is a proof, and nothing was
 * to be looked at. So the event claims nothing that the journal does not hold already.
 */
function isOnlyGoingOn(event: SafetyEvent, means: keyof typeof nameOf, facts: SafetyFacts): boolean {
  if (event.kind !== 'step-done' || means !== 'foot') return false;
  const step = facts.steps.find(({ id }) => id === event.step);
  if (step === undefined || step.inspect.length > 0) return false;
  const readings = readingsOfStep(step);
  const isProof = facts.readings.some(({ id, proves }) => proves != null && readings.includes(id));
  return readings.length > 0 && !isProof;
}
