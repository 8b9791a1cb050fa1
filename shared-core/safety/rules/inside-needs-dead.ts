import type { SafetyEvent } from '../events.ts';
import type { SafetyFacts } from '../facts.ts';
import type { Guard } from '../guard.ts';
import { isLiveReading } from '../lookup.ts';
import { refuse } from '../refusal.ts';

/** Rule 1: hands go inside only when the amplifier is proven dead. */
export const insideNeedsDead: Guard = {
  id: 'inside-needs-dead',
  check: ({ state: { energy }, event, facts }) => {
    if (energy.kind === 'dead' || !isInside(event, facts)) return [];
    const hint =
      energy.kind === 'live'
        ? 'Pull the plug, lay it in sight, then measure every store.'
        : 'Measure every store until the drain screen says that the amplifier is dead.';
    return [
      refuse('safety/not-dead', 'This needs hands inside, and the amplifier is not proven dead.', hint),
    ];
  },
};

/** Events that say a hand was, or is about to be, inside. */
function isInside(event: SafetyEvent, facts: SafetyFacts): boolean {
  switch (event.kind) {
    case 'work-inside':
    case 'looked-over':
    case 'repaired':
    case 'valve-fitted':
    case 'valve-removed':
    case 'fuse-replaced':
    // What is printed on a fuse is read with the fuse out of its holder.
    case 'fuse-read':
      return true;
    case 'step-started':
    case 'step-ticked':
    case 'step-done':
      return facts.steps.find((each) => each.id === event.step)?.reach === 'inside';
    case 'reading-entered': {
      const reading = facts.readings.find((each) => each.id === event.reading);
      return reading !== undefined && !isLiveReading(reading, facts);
    }
    default:
      return false;
  }
}
