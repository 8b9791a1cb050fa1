import { expect, test } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { deriveFacts } from '../../../shared-core/safety/derive-facts.ts';
import type { StepFacts } from '../../../shared-core/safety/facts.ts';
import { isStepHeld, readingsOfStep } from '../../../shared-core/safety/lookup.ts';
import { enter, makeReady, proveDead } from '../../helpers/journey.ts';
import { scriptSafety, type ScriptedSafety } from '../../helpers/scripted-safety.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

const { chosen } = chooseHeron();
const predictions = chosen.conditions.flatMap(
  ({ id }) => predictNominal(chosen, id, plainBench, asStated)?.prediction ?? [],
);
const facts = deriveFacts({
  ...{ chosen, kitHash: 'abc', bench: plainBench, fitted: asStated, predictions },
  drain: predictDrain(chosen, plainBench, asStated),
});

function good(id: string) {
  // The tester's figure is stated, above 1 MΩ; everything else reads as predicted.
  if (facts.readings.find((each) => each.id === id)?.measure === 'insulation') return { value: 50e6 };
  const prediction = predictions.flatMap(({ readings }) => readings).find((each) => each.id === id);
  // On the lamp nothing is predicted: between the stop limits.
  if (prediction?.predicted === 'none') return { value: (prediction.stopAbove ?? 0) * 0.75 };
  return prediction?.predicted === 'overload'
    ? { entry: { kind: 'overload' as const } }
    : { value: prediction?.nominal ?? 0.2 };
}

test('a heater line that the lamp pulls down is a short, and stops', () => {
  for (const id of ['heater-1-lamp', 'heater-2-lamp']) {
    expect(facts.readings.find((each) => each.id === id)).toMatchObject({ stopBelow: 2, stopAbove: 4.2 });
  }
});

test('a heater line that is more than 15 % off its 3.15 V is a stop with every valve in', () => {
  for (const id of ['heater-1-running', 'heater-2-running']) {
    const found = facts.readings.find((each) => each.id === id);
    expect((found?.stopAbove ?? Infinity) / 3.15 - 1, id).toBeLessThanOrEqual(0.15);
    expect(1 - (found?.stopBelow ?? 0) / 3.15, id).toBeLessThanOrEqual(0.15);
  }
});

function walk(amp: ScriptedSafety, step: StepFacts): void {
  const { action } = step;
  const { energy } = amp.safety();
  // A kit's own switch-off is followed by the drain that the app adds.
  if (step.reach === 'inside' && energy.kind === 'draining') proveDead(amp);
  if (action.kind === 'switch-on') {
    if (amp.safety().energy.kind === 'draining') proveDead(amp);
    makeReady(amp, action.condition);
    amp.do('plugged-in', { condition: action.condition, step: step.id });
    amp.wait(150);
  }
  if (action.kind === 'switch-off') {
    amp.do('plug-out-confirmed');
    amp.wait(200);
  }
  if (action.kind === 'drain') proveDead(amp);
  if (action.kind === 'fuse') {
    const fuse = facts.fuses.find(({ part }) => part === action.part);
    amp.do('fuse-read', { part: action.part, amps: fuse?.amps ?? 0, speed: fuse?.speed ?? 'F', typed: '' });
  }
  amp.do('step-started', { step: step.id });
  if (action.kind === 'soak') amp.wait(action.seconds);
  for (const id of readingsOfStep(step)) enter(amp, id, good(id));
  for (const item of step.inspect.keys()) amp.do('step-ticked', { step: step.id, item, ticked: true });
  amp.do('step-done', { step: step.id });
}

test.each(['measured', 'NOT tested'])(
  'Heron is walked from the box to its signature, insulation %s',
  (how) => {
    const amp = scriptSafety({ facts });
    for (const step of facts.steps) {
      if (how === 'NOT tested' && step.id === 'on-insulation') amp.do('insulation-not-tested');
      if (isStepHeld(step, amp.safety(), facts)) continue;
      walk(amp, step);
    }
    expect(facts.steps.filter((step) => !isStepHeld(step, amp.safety(), facts)).map(({ id }) => id)).toEqual(
      [],
    );
    expect(amp.safety().plugIns).toMatchObject({ running: 1 });
  },
);
