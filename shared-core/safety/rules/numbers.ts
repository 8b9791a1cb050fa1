import type { SafetyEvent } from '../events.ts';
import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** A proof is a number; anything else measures nothing. */
export const numbers: Guard = {
  id: 'numbers',
  check: ({ event }) =>
    numbersIn(event).every((each) => Number.isFinite(each))
      ? []
      : [refuse('safety/not-a-number', 'There is no number in this entry.', 'Type what the meter shows.')],
};

function numbersIn(event: SafetyEvent): readonly number[] {
  switch (event.kind) {
    case 'store-look':
      return [event.volts, event.enteredAfterMs];
    case 'meter-shown-to-work':
      return [event.volts];
    case 'clip-fitted':
      return [event.ohms, event.watts];
    case 'fuse-sides-looked':
      return [event.aVolts, event.bVolts];
    case 'reading-entered':
      return event.entry.kind === 'value' ? [event.entry.value] : [];
    case 'instrument-recorded':
      return [event.instrument.earthVolts];
    case 'bench-recorded':
      return [event.bench.mains.volts, event.bench.meter.ratedVolts, event.bench.leads.ratedVolts];
    default:
      return [];
  }
}
