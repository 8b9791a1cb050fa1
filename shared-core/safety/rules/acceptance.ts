import type { Guard } from '../guard.ts';
import { isPassed } from '../lookup.ts';
import { apartSteps } from '../compare.ts';
import { refuse } from '../refusal.ts';

/** Rule 2: only *out of band*, or two readings too far apart, can be accepted, and only with a reason. */
export const acceptanceOnlyOutOfBand: Guard = {
  id: 'acceptance-only-out-of-band',
  check: ({ state, event, facts }) => {
    if (event.kind !== 'verdict-accepted') return [];
    const verdict = state.readings[event.reading]?.verdict;
    if (verdict === 'out of band') return [];
    const isApart = isPassed(event.reading, state) && apartSteps(event.reading, state, facts).length > 0;
    if (isApart) return [];
    return verdict === 'stop'
      ? [
          refuse(
            'safety/stop-not-acceptable',
            `${event.reading} is past its stop limit: that cannot be accepted.`,
            'Find the fault, repair it, and read again.',
            event.reading,
          ),
        ]
      : [
          refuse(
            'safety/nothing-to-accept',
            `${event.reading} has no verdict that waits for acceptance.`,
            'Take the reading first.',
            event.reading,
          ),
        ];
  },
};

export const acceptanceNeedsReason: Guard = {
  id: 'acceptance-needs-reason',
  check: ({ event }) =>
    event.kind === 'verdict-accepted' && event.reason.trim() === ''
      ? [
          refuse(
            'safety/reason-missing',
            'There is no reason.',
            'Say why it is accepted: it is printed and counted.',
            event.reading,
          ),
        ]
      : [],
};

/** Rules 3 and 4: what proves the cold gate or a bias is read in band, or not passed. */
export const gateIsNeverAccepted: Guard = {
  id: 'gate-is-never-accepted',
  check: ({ event, facts }) => {
    if (event.kind !== 'verdict-accepted') return [];
    const isGate = facts.readings.find((each) => each.id === event.reading)?.proves != null;
    const isBias = facts.fixedBias.some((each) => each.readings.includes(event.reading));
    if (!isGate && !isBias) return [];
    return [
      refuse(
        'safety/gate-not-acceptable',
        `${event.reading} guards the plug-in: it has to be in band.`,
        'Find out why it is not, repair it, and read again.',
        event.reading,
      ),
    ];
  },
};
