import type { SafetyFacts, StepFacts } from '../safety/facts.ts';
import { isStepHeld } from '../safety/lookup.ts';
import type { BuildState } from './build-state.ts';

/** The step to do now: the first that is not done, or whose readings no longer count; null at the end. */
export function currentStep(build: BuildState, facts: SafetyFacts): StepFacts | null {
  return facts.steps.find((step) => !isStepHeld(step, build.safety, facts)) ?? null;
}

/** How far the build has come, as counts of steps. */
export function stepProgress(
  build: BuildState,
  facts: SafetyFacts,
): { readonly done: number; readonly all: number } {
  const done = facts.steps.filter((step) => isStepHeld(step, build.safety, facts)).length;
  return { done, all: facts.steps.length };
}
