import type { Verdict } from '../bands/verdict.ts';
import type { SafetyState } from './energy-state.ts';
import type { ConditionFacts, ReadingFacts, SafetyFacts, StepFacts } from './facts.ts';
import { highestSafeVolts } from './limits.ts';
import { isCompared } from './compare.ts';

/** A condition with a supply connected. */
export function isSupplied(condition: ConditionFacts): boolean {
  return condition.supply !== 'unplugged';
}

/** The condition that a reading is taken in, where the kit has it. */
export function conditionOf(reading: ReadingFacts, facts: SafetyFacts): ConditionFacts | undefined {
  return facts.conditions.find((each) => each.id === reading.in);
}

/** True for readings taken with a supply connected; an unknown condition counts as live. */
export function isLiveReading(reading: ReadingFacts, facts: SafetyFacts): boolean {
  return conditionOf(reading, facts)?.supply !== 'unplugged';
}

/** The lamp stage; in a kit without one, its first condition on a supply other than the tester. */
export function lampStageOf(facts: SafetyFacts): string | null {
  if (facts.lampStage !== null) return facts.lampStage;
  const first = facts.conditions.find((each) => isSupplied(each) && each.supply !== 'insulation-tester');
  return first?.id ?? null;
}

/** Below this a touch is permitted, in volts DC (V): the kit's figure, but never above 60. */
export function safeVoltsOf(facts: SafetyFacts): number {
  return Math.min(facts.safeVolts, highestSafeVolts);
}

/** Verdicts that stand in the way of the next plug-in. */
export function isBlocking(verdict: Verdict): boolean {
  return verdict === 'out of band' || verdict === 'stop';
}

/** The reading was taken since its nets were last worked on, and it was in band. */
export function isPassed(reading: string, state: SafetyState): boolean {
  const standing = state.readings[reading];
  if (standing === undefined || !standing.counts) return false;
  return (
    standing.verdict === 'as expected' ||
    standing.verdict === 'borderline' ||
    standing.verdict === 'not predicted'
  );
}

/** Passed with a figure to hold it against: what proves the cold gate or a bias is never "not predicted". */
export function isInBand(reading: string, state: SafetyState): boolean {
  return isPassed(reading, state) && state.readings[reading]?.verdict !== 'not predicted';
}

/** Passed, or out of band and accepted with a reason. */
export function isPassedOrAccepted(reading: string, state: SafetyState): boolean {
  const standing = state.readings[reading];
  if (standing === undefined || !standing.counts) return false;
  return isPassed(reading, state) || (standing.verdict === 'out of band' && standing.settled === 'accepted');
}

/** Readings that a step takes. */
export function readingsOfStep(step: StepFacts): readonly string[] {
  const { action } = step;
  switch (action.kind) {
    case 'read':
    case 'compare':
    case 'signal':
    case 'soak':
      return action.readings;
    case 'adjust':
      return [action.reading];
    default:
      return [];
  }
}

/**
 * The step was done, and what it read still counts.
 *
 * Steps on the insulation tester are passed over once "insulation NOT tested" is recorded.
 */
export function isStepHeld(step: StepFacts, state: SafetyState, facts: SafetyFacts): boolean {
  const condition = facts.conditions.find((each) => each.id === step.condition);
  if (condition?.supply === 'insulation-tester' && state.gate.insulationNotTested) return true;
  const status = state.steps[step.id]?.status;
  if (status === 'declared') return step.action.kind === 'gather' || step.action.kind === 'assemble';
  if (status !== 'done') return false;
  if (step.action.kind === 'fuse' && !state.gate.fusesRead.includes(step.action.part)) return false;
  if (!isCompared(step, state)) return false;
  return readingsOfStep(step).every((reading) => isPassedOrAccepted(reading, state));
}

/**
 * The place in the kit's order where a condition is first switched on.
 *
 * Conditions that no step switches on come last.
 */
export function conditionOrder(condition: string, facts: SafetyFacts): number {
  const index = facts.steps.findIndex(
    ({ action }) => action.kind === 'switch-on' && action.condition === condition,
  );
  return index === -1 ? Number.MAX_SAFE_INTEGER : index;
}
