import { apartOf, isCompared } from '../compare.ts';
import type { SafetyState } from '../energy-state.ts';
import type { StepFacts } from '../facts.ts';
import type { Guard } from '../guard.ts';
import { isPassedOrAccepted, readingsOfStep } from '../lookup.ts';
import { isReadAfterSoak, soakLeftSeconds } from '../soak.ts';
import { refuse, type Refusal } from '../refusal.ts';
import type { Stamp } from '../stamp.ts';
import { formatQuantity } from '../../units/format-quantity.ts';

/** A step is done when what it asks for is there, not when somebody says so. */
export const stepReallyDone: Guard = {
  id: 'step-really-done',
  check: ({ state, event, stamp, facts }) => {
    if (event.kind !== 'step-done') return [];
    const step = facts.steps.find((each) => each.id === event.step);
    if (step === undefined) return [];
    const unfinished = [...missingOf(step, state), ...missingSoak(step, state, stamp)].map((what) =>
      refuse(
        'safety/step-not-finished',
        `“${step.title}” is not finished: ${what}.`,
        'Finish it, then say that it is done.',
        step.id,
      ),
    );
    return [...unfinished, ...apart(step, state)];
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

/** Left on for its time, in this run, and read again after it. */
function missingSoak(step: StepFacts, state: SafetyState, stamp: Stamp): readonly string[] {
  if (step.action.kind !== 'soak') return [];
  const left = soakLeftSeconds(step, state, stamp);
  if (left === null) return ['it is not started, or the plug is not in'];
  if (left > 0) return [`${Math.ceil(left)} s to go`];
  return step.action.readings
    .filter((reading) => !isReadAfterSoak(step, reading, state))
    .map((reading) => `${reading} is not read again after the time`);
}

/** Two readings that should agree and do not: like a reading that does not fit. */
function apart(step: StepFacts, state: SafetyState): readonly Refusal[] {
  const { action } = step;
  if (action.kind !== 'compare' || isCompared(step, state)) return [];
  // What is not read at all is said above.
  if (!action.readings.every((reading) => isPassedOrAccepted(reading, state))) return [];
  const share = apartOf(step, state);
  const [one, other] = action.readings;
  const allowed = formatQuantity(action.within, '%');
  const what =
    share === null
      ? `${one} and ${other} cannot be compared: one has no figure.`
      : `${one} and ${other} differ by ${formatQuantity(share, '%', 2)}; ${allowed} is allowed.`;
  return [
    refuse(
      'safety/readings-apart',
      what,
      'Read both again. If it stays, pull the plug and look for the fault, or accept it with a reason.',
      step.id,
    ),
  ];
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
