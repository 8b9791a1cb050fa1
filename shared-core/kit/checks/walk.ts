import type { ChosenKit } from '../chosen-kit.ts';
import type { Condition } from '../kit.ts';
import { isLive } from './check.ts';
import type { PlacedStep } from './check.ts';

/** A step with the state in which the builder comes to it. */
export interface WalkedStep extends PlacedStep {
  readonly index: number;
  /** The condition that is switched on while the step is done; null with the plug out. */
  readonly live: Condition | null;
  /** For a switch-on step, the condition it asks for. */
  readonly next: Condition | null;
}

/**
 * Walks the steps in order and follows what is switched on.
 *
 * Switching off is pulling the plug; the drain that must follow before hands go in is added by the app itself.
 */
export function walkSteps(chosen: ChosenKit, steps: readonly PlacedStep[]): readonly WalkedStep[] {
  let live: Condition | null = null;
  return steps.map(({ step, path }, index) => {
    const { action } = step;
    const condition =
      action.kind === 'switch-on' ? chosen.conditions.find(({ id }) => id === action.condition) : undefined;
    const next = condition && isLive(condition) ? condition : null;
    const walked = { step, path, index, live, next };
    if (next) live = next;
    if (action.kind === 'switch-off') live = null;
    return walked;
  });
}
