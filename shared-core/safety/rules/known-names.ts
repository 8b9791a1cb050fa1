import type { SafetyEvent } from '../events.ts';
import type { SafetyFacts } from '../facts.ts';
import type { Guard } from '../guard.ts';
import { refuse } from '../refusal.ts';

/** Whatever an event names has to be in the kit: an unknown name proves nothing. */
export const knownNames: Guard = {
  id: 'known-names',
  check: ({ event, facts }) =>
    namesIn(event, facts)
      .filter(({ isKnown }) => !isKnown)
      .map(({ what, name }) =>
        refuse(
          'safety/unknown-name',
          `This kit has no ${what} ${name}.`,
          'Reload the build; if it was edited by hand, go back to the file as it was.',
          name,
        ),
      ),
};

interface Named {
  readonly what: string;
  readonly name: string;
  readonly isKnown: boolean;
}

function namesIn(event: SafetyEvent, facts: SafetyFacts): readonly Named[] {
  const one = (what: string, name: string, ids: readonly string[]): readonly Named[] => [
    { what, name, isKnown: ids.includes(name) },
  ];
  const readings = facts.readings.map((each) => each.id);
  switch (event.kind) {
    case 'reading-entered':
    case 'verdict-accepted':
      return one('reading', event.reading, readings);
    case 'repaired':
      return event.readings.flatMap((each) => one('reading', each, readings));
    case 'plugged-in':
      return [
        ...one(
          'condition',
          event.condition,
          facts.conditions.map((each) => each.id),
        ),
        ...(event.step === null
          ? []
          : one('switch-on step', event.step, switchOnSteps(event.condition, facts))),
      ];
    case 'clip-fitted':
    case 'clip-removed':
    case 'store-look':
    case 'look-checked':
      return one(
        'store',
        event.store,
        facts.stores.map((each) => each.part),
      );
    case 'fuse-read':
    case 'fuse-sides-looked':
    case 'fuse-replaced':
      return one(
        'fuse',
        event.part,
        facts.fuses.map((each) => each.part),
      );
    case 'valve-fitted':
    case 'valve-removed':
      return one('valve socket', event.socket, facts.sockets);
    case 'step-started':
    case 'step-ticked':
    case 'step-done':
    case 'step-reopened':
      return one(
        'step',
        event.step,
        facts.steps.map((each) => each.id),
      );
    default:
      return [];
  }
}

function switchOnSteps(condition: string, facts: SafetyFacts): readonly string[] {
  return facts.steps
    .filter(({ action }) => action.kind === 'switch-on' && action.condition === condition)
    .map((each) => each.id);
}
