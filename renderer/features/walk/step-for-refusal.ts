import type { SafetyFacts, StepFacts } from '../../../shared-core/safety/facts.ts';
import type { Refusal } from '../../../shared-core/safety/refusal.ts';

/**
 * The step that a refusal leads to: the one it means, the one that takes the reading it means, or the one
 * that switches on what a live reading needs.
 *
 * @param shown The step on the screen; a way to where one is already is none.
 * @returns The step's id; null when no other step helps.
 */
export function stepForRefusal(
  { code, subject }: Pick<Refusal, 'code' | 'subject'>,
  facts: Pick<SafetyFacts, 'steps' | 'readings'>,
  shown: string,
): string | null {
  if (subject === null || code === 'safety/step-not-finished') return null;
  const reading = facts.readings.find(({ id }) => id === subject);
  const found =
    code === 'safety/wrong-condition' && reading !== undefined
      ? facts.steps.find(({ action }) => action.kind === 'switch-on' && action.condition === reading.in)
      : facts.steps.find((step) => isAbout(step, subject));
  return found === undefined || found.id === shown ? null : found.id;
}

function isAbout({ id, action }: StepFacts, subject: string): boolean {
  if (id === subject) return true;
  if (action.kind === 'fuse') return action.part === subject;
  return 'readings' in action && (action.readings as readonly string[]).includes(subject);
}
