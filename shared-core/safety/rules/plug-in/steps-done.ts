import { guardPlugIn } from '../../guard.ts';
import { isStepHeld } from '../../lookup.ts';
import { refuse } from '../../refusal.ts';

/** Rule 2: every earlier required step is done, and what it read still counts. */
export const earlierStepsDone = guardPlugIn(
  'plug-in/earlier-steps-done',
  ({ state, facts }, condition, event) => {
    const isItsStep = (id: string): boolean => event.step === null || event.step === id;
    const index = facts.steps.findIndex(
      ({ id, action }) => action.kind === 'switch-on' && action.condition === condition.id && isItsStep(id),
    );
    const earlier = index === -1 ? facts.steps : facts.steps.slice(0, index);
    return earlier
      .filter((step) => step.required && !isStepHeld(step, state, facts))
      .map((step) =>
        refuse(
          'safety/steps-not-done',
          `“${step.title}” comes before this and is not done.`,
          'Do that step first.',
          step.id,
        ),
      );
  },
);
