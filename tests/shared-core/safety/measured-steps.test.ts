import { describe, expect, test } from 'vitest';
import { shareApart } from '../../../shared-core/safety/compare.ts';
import type { SafetyFacts, StepFacts } from '../../../shared-core/safety/facts.ts';
import { isStepHeld } from '../../../shared-core/safety/lookup.ts';
import { finch } from '../../helpers/finch.ts';
import { enter, makeReady, proveDead } from '../../helpers/journey.ts';
import { buildFinch, scriptSafety, type ScriptedSafety } from '../../helpers/scripted-safety.ts';

const plain = finch.steps.find(({ id }) => id === 'read-lamp') as StepFacts;
const second = finch.readings.find(({ id }) => id === 'ht-ac');
if (second === undefined) throw new Error('Finch has no ht-ac');

/** Finch with two halves to compare on the lamp, and ten minutes to leave it on. */
const facts: SafetyFacts = {
  ...finch,
  readings: [...finch.readings, { ...second, id: 'ht-ac-2' }],
  steps: finch.steps.flatMap((each) =>
    each.id === 'read-lamp'
      ? [
          each,
          {
            ...plain,
            id: 'halves',
            action: { kind: 'compare', readings: ['ht-ac', 'ht-ac-2'], within: 0.03 },
          },
          { ...plain, id: 'soak', action: { kind: 'soak', seconds: 600, readings: ['ht-ac'] } },
        ]
      : [each],
  ),
};

function live(one = 250, other = 250): ScriptedSafety {
  const amp = scriptSafety({ facts });
  buildFinch(amp);
  makeReady(amp, 'lamp');
  amp.do('plugged-in', { condition: 'lamp', step: 'on-lamp' });
  enter(amp, 'ht-ac', { value: one });
  enter(amp, 'ht-ac-2', { value: other });
  return amp;
}

const whyNot = (amp: ScriptedSafety, step: string): string =>
  amp
    .ask('step-done', { step })
    .map(({ message }) => message)
    .join(' ');

describe('leaving it on', () => {
  test('is not done at once, nor with the readings of before', () => {
    const amp = live();
    amp.wait(3600);
    amp.do('step-started', { step: 'soak' });
    expect(whyNot(amp, 'soak')).toContain('600 s to go');
    amp.wait(599);
    expect(whyNot(amp, 'soak')).toContain('1 s to go');
    amp.wait(1);
    expect(whyNot(amp, 'soak')).toContain('ht-ac is not read again');
    enter(amp, 'ht-ac', { value: 252 });
    expect(whyNot(amp, 'soak')).toBe('');
  });

  test('is not done by a reading taken while the time ran', () => {
    const amp = live();
    amp.do('step-started', { step: 'soak' });
    amp.wait(300);
    enter(amp, 'ht-ac', { value: 250 });
    amp.wait(300);
    expect(whyNot(amp, 'soak')).toContain('ht-ac is not read again');
  });

  test('asks for a reading that fits, or is accepted', () => {
    const amp = live();
    amp.do('step-started', { step: 'soak' });
    amp.wait(600);
    enter(amp, 'ht-ac', { value: 200, verdict: 'out of band' });
    expect(whyNot(amp, 'soak')).toContain('ht-ac');
    amp.do('verdict-accepted', { reading: 'ht-ac', reason: 'a tired valve' });
    expect(whyNot(amp, 'soak')).toBe('');
  });

  test('is not done when it was never started, or started and reopened', () => {
    const amp = live();
    amp.wait(700);
    enter(amp, 'ht-ac', { value: 250 });
    expect(whyNot(amp, 'soak')).toContain('not started');
    amp.do('step-started', { step: 'soak' });
    amp.do('step-reopened', { step: 'soak', why: 'the drift is to be seen again' });
    amp.wait(600);
    enter(amp, 'ht-ac', { value: 250 });
    expect(whyNot(amp, 'soak')).toContain('not started');
  });

  test('starts over with the plug: time with the plug out does not count', () => {
    const amp = live();
    amp.do('step-started', { step: 'soak' });
    amp.wait(300);
    proveDead(amp);
    expect(whyNot(amp, 'soak')).toContain('the plug is not in');
    amp.wait(600);
    makeReady(amp, 'lamp');
    amp.do('plugged-in', { condition: 'lamp', step: 'on-lamp' });
    expect(whyNot(amp, 'soak')).toContain('600 s to go');
  });
});

describe('comparing', () => {
  test('goes on within the percentage', () => {
    expect(whyNot(live(250, 255), 'halves')).toBe('');
  });

  // 10 about a mean of 250 is 4 %.
  test('outside it is refused by how much, whichever is larger', () => {
    for (const amp of [live(245, 255), live(255, 245)]) {
      expect(whyNot(amp, 'halves')).toMatch(/differ by 4\s%; 3\s% is allowed/u);
      expect(amp.codes('step-done', { step: 'halves' })).toEqual(['safety/readings-apart']);
    }
  });

  test('is accepted with a reason, until either is read again', () => {
    for (const again of ['ht-ac', 'ht-ac-2']) {
      const amp = live(245, 255);
      expect(amp.codes('verdict-accepted', { reading: 'ht-ac-2', reason: ' ' })).toEqual([
        'safety/reason-missing',
      ]);
      amp.do('verdict-accepted', { reading: 'ht-ac-2', reason: 'uneven winding' });
      amp.do('step-done', { step: 'halves' });
      enter(amp, again, { value: again === 'ht-ac' ? 240 : 260 });
      expect(amp.codes('step-done', { step: 'halves' })).toEqual(['safety/readings-apart']);
      const halves = facts.steps.find(({ id }) => id === 'halves') as StepFacts;
      expect(isStepHeld(halves, amp.safety(), facts)).toBe(false);
    }
  });

  test('has nothing to accept while the two agree', () => {
    expect(live(250, 255).codes('verdict-accepted', { reading: 'ht-ac', reason: 'x' })).toEqual([
      'safety/nothing-to-accept',
    ]);
  });

  test('takes figures of opposite sign as far apart, and two nothings as equal', () => {
    expect(shareApart(5, -5)).toBe(2);
    expect(shareApart(0, 0)).toBe(0);
  });
});

describe('a foot that goes on', () => {
  const byFoot = (amp: ScriptedSafety, step: string): readonly string[] =>
    amp.ask('step-done', { step, by: 'foot' }).map(({ code }) => code);

  test('may do so from a step whose readings were all entered by hand and passed', () => {
    expect(byFoot(live(), 'read-lamp')).toEqual([]);
  });

  test('may not while a reading is missing or blocks', () => {
    const amp = scriptSafety({ facts });
    buildFinch(amp);
    makeReady(amp, 'lamp');
    amp.do('plugged-in', { condition: 'lamp', step: 'on-lamp' });
    expect(byFoot(amp, 'read-lamp')).toContain('safety/step-not-finished');
    enter(amp, 'ht-ac', { value: 400, verdict: 'out of band' });
    expect(byFoot(amp, 'read-lamp')).toContain('safety/step-not-finished');
  });

  test.each(
    finch.steps.filter(
      ({ action }) => !['read', 'signal', 'adjust', 'compare', 'soak'].includes(action.kind),
    ),
  )('may not from $id: it claims what no reading shows', ({ id }) => {
    expect(byFoot(live(), id)).toContain('safety/by-hand-only');
  });

  test('may not from readings that prove something, and a voice from none', () => {
    const proving = finch.steps.filter(
      ({ action }) =>
        action.kind === 'read' &&
        action.readings.some((id) => finch.readings.find((each) => each.id === id)?.proves != null),
    );
    expect(proving.length).toBeGreaterThan(0);
    for (const { id } of proving) expect(byFoot(live(), id)).toContain('safety/by-hand-only');
    const voice = live().ask('step-done', { step: 'read-lamp', by: 'voice' });
    expect(voice.map(({ code }) => code)).toContain('safety/by-hand-only');
  });
});
