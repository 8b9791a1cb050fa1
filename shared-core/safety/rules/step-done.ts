import type { SafetyState } from '../energy-state.ts';
import type { StepFacts } from '../facts.ts';
import type { Guard } from '../guard.ts';
import { isPassedOrAccepted, readingsOfStep } from '../lookup.ts';
import { refuse } from '../refusal.ts';

/** A step is done when what it asks for is there, not when somebody says so. */
export const stepReallyDone: Guard = {
  id: 'step-really-done',
  check: ({ state, event, facts }) => {
    if (event.kind !== 'step-done') return [];
    const step = facts.steps.find((each) => each.id === event.step);
    if (step === undefined) return [];
    return missingOf(step, state).map((what) =>
      refuse(
        'safety/step-not-finished',
        `“${step.title}” is not finished: ${what}.`,
        'Finish it, then say that it is done.',
        step.id,
      ),
    );
  },
};

function missingOf(step: StepFacts, state: SafetyState): readonly string[] {
  const ticked = state.steps[step.id]?.ticked ?? [];
  const unlooked = step.inspect
    .filter((_, index) => !ticked.includes(index))
    .map((each) => `look at: ${each}`);
  const unread = readingsOfStep(step)
    .filter((reading) => !isPassedOrAccepted(reading, state))
    .map((reading) => `${reading} has no settled reading`);
  return [...unlooked, ...unread, ...missingAction(step, state)];
}

function missingAction({ action }: StepFacts, { energy, gate }: SafetyState): readonly string[] {
  switch (action.kind) {
    case 'fuse':
      return gate.fusesRead.includes(action.part) ? [] : [`the marking of ${action.part} is not read back`];
    case 'switch-on':
      return energy.kind === 'live' && energy.condition === action.condition ? [] : ['the plug is not in'];
    case 'switch-off': {
      const isOut = energy.kind === 'dead' || (energy.kind === 'draining' && energy.plugOut !== null);
      return isOut ? [] : ['the plug is not confirmed out'];
    }
    case 'drain':
      return energy.kind === 'dead' ? [] : ['the stores are not proven empty'];
    default:
      return [];
  }
}
