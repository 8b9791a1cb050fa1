import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { allChoices, chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { predictDrain } from '../../../shared-core/prediction/predict-drain.ts';
import { deriveFacts } from '../../../shared-core/safety/derive-facts.ts';
import type { SafetyFacts, StepFacts } from '../../../shared-core/safety/facts.ts';
import { isStepHeld, readingsOfStep } from '../../../shared-core/safety/lookup.ts';
import { dcSetup, enter, makeReady, proveDead } from '../../helpers/journey.ts';
import { scriptSafety, type ScriptedSafety } from '../../helpers/scripted-safety.ts';
import { root } from '../../run/child.mjs';
import { asStated } from '../prediction/heron.ts';

const kits = ['wren', 'curlew'].flatMap((id) => {
  const path = join(root, 'kits', id, 'kit.yaml');
  const kit = readKit(readFileSync(path, 'utf8'), path);
  if (!kit.ok) throw new Error(kit.problems[0].message);
  return allChoices(kit.value).map((choices) => {
    const chosen = chooseKit(kit.value, choices);
    if (!chosen.ok) throw new Error(chosen.problems[0].message);
    return { name: `${kit.value.name}, ${Object.values(choices).join(', ')}`, chosen: chosen.value };
  });
});

type Chosen = (typeof kits)[0]['chosen'];

function factsOf(chosen: Chosen) {
  const bench = { ...plainBench, mains: { ...plainBench.mains, ...mainsOf(chosen) } };
  const predictions = chosen.conditions.flatMap(
    ({ id }) => predictNominal(chosen, id, bench, asStated)?.prediction ?? [],
  );
  const drain = predictDrain(chosen, bench, asStated);
  const facts = deriveFacts({ chosen, kitHash: 'abc', bench, fitted: asStated, predictions, drain });
  return { bench, facts, predictions, drain };
}

function mainsOf(chosen: Chosen) {
  const is120 = chosen.choices['mains']?.startsWith('120') === true;
  return is120 ? { volts: 120, hertz: 60 as const } : { volts: 230, hertz: 50 as const };
}

function good({ facts, predictions }: ReturnType<typeof factsOf>, id: string) {
  // The tester's figure is stated, above 1 MΩ; everything else reads as predicted.
  if (facts.readings.find((each) => each.id === id)?.measure === 'insulation') return { value: 50e6 };
  const prediction = predictions.flatMap(({ readings }) => readings).find((each) => each.id === id);
  // On the lamp nothing is predicted: between the stop limits.
  if (prediction?.predicted === 'none') return { value: (prediction.stopAbove ?? 0) * 0.75 };
  return prediction?.predicted === 'overload'
    ? { entry: { kind: 'overload' as const } }
    : { value: prediction?.nominal ?? 0.02 };
}

/** Adjusters are at their most negative whenever a fixed-bias valve goes in. */
function setAdjusters(amp: ScriptedSafety, facts: SafetyFacts): void {
  for (const adjuster of new Set(facts.fixedBias.flatMap(({ adjusters }) => adjusters))) {
    if (amp.safety().adjustersMostNegative.includes(adjuster)) continue;
    amp.do('adjuster-set', { adjuster, mostNegative: true });
  }
}

function walk(amp: ScriptedSafety, step: StepFacts, known: ReturnType<typeof factsOf>): void {
  const { action } = step;
  // A kit's own switch-off is followed by the drain that the app adds.
  if (step.reach === 'inside' && amp.safety().energy.kind === 'draining') proveDead(amp);
  if (action.kind === 'switch-on') {
    if (amp.safety().energy.kind === 'draining') proveDead(amp);
    setAdjusters(amp, known.facts);
    makeReady(amp, action.condition);
    amp.do('plugged-in', { condition: action.condition, step: step.id });
    amp.wait(400);
    amp.do('meter-shown-to-work', { setup: dcSetup, volts: 9.1 });
  }
  if (action.kind === 'switch-off') {
    amp.do('plug-out-confirmed');
    amp.wait(200);
  }
  if (action.kind === 'drain') proveDead(amp);
  if (action.kind === 'fuse') {
    const fuse = known.facts.fuses.find(({ part }) => part === action.part);
    amp.do('fuse-read', { part: action.part, amps: fuse?.amps ?? 0, speed: fuse?.speed ?? 'F', typed: '' });
  }
  amp.do('step-started', { step: step.id });
  if (action.kind === 'soak') amp.wait(action.seconds);
  for (const id of readingsOfStep(step)) enter(amp, id, good(known, id));
  for (const item of step.inspect.keys()) amp.do('step-ticked', { step: step.id, item, ticked: true });
  amp.do('step-done', { step: step.id });
}

describe.each(kits)('$name', ({ chosen }) => {
  const known = factsOf(chosen);
  const { facts, predictions, drain } = known;

  test('is walked from the box to its signature through every gate', () => {
    const amp = scriptSafety({ facts });
    amp.do('bench-recorded', { bench: known.bench });
    for (const step of facts.steps) if (!isStepHeld(step, amp.safety(), facts)) walk(amp, step, known);
    expect(facts.steps.filter((step) => !isStepHeld(step, amp.safety(), facts)).map(({ id }) => id)).toEqual(
      [],
    );
    expect(amp.safety().plugIns).toMatchObject({ running: 1, signal: 1, listening: 1 });
  });

  test('has every reading predicted or stated, but those on the lamp and the insulation tester', () => {
    const open = predictions.flatMap(({ condition, readings }) => {
      const supply = chosen.conditions.find(({ id }) => id === condition)?.supply;
      if (supply === 'lamp') return [];
      return readings.filter(({ predicted }) => predicted === 'none').map(({ id, why }) => `${id}: ${why}`);
    });
    expect(open).toEqual([]);
  });

  test('does not pass a dead reading on the lamp', () => {
    const onLamp = facts.readings.filter((each) => each.in === facts.lampStage);
    expect(onLamp.length).toBeGreaterThan(1);
    for (const { id, stopBelow } of onLamp) expect(stopBelow, id).toBeGreaterThan(1);
  });

  test('empties itself in less than a minute at the slowest', () => {
    expect(drain.stores.length).toBeGreaterThan(3);
    for (const { part, slowSeconds } of drain.stores) expect(slowSeconds, part).toBeLessThan(60);
  });
});
