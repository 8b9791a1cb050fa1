import { describe, expect, test } from 'vitest';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { distrust } from '../../../shared-core/safety/initial-safety.ts';
import {
  drainNeeds,
  foldSafety,
  mayReach,
  reachRefusals,
  refusals,
  safetyAt,
} from '../../../shared-core/safety/safety.ts';
import { isStateKnown } from '../../../shared-core/safety/screen-trust.ts';
import { finch } from '../../helpers/finch.ts';
import { enter, makeReady, plugIn, proveDead } from '../../helpers/journey.ts';
import { buildFinch, endCondition, scriptSafety } from '../../helpers/scripted-safety.ts';
import {
  draining,
  fuseReplaced,
  liveOnLamp,
  provenDead,
  stopped,
  wrong,
} from '../../helpers/safety/stages.ts';

describe('what time does', () => {
  test('loose parts never plugged in stay dead over a restart', () => {
    const amp = scriptSafety();
    amp.clock.restart();
    expect(amp.mayInside()).toBe(true);
  });

  test.each(['assembled', 'old record'] as const)('%s starts draining at an unknown time', (startedFrom) => {
    const amp = scriptSafety({ startedFrom });
    expect(amp.safety().energy).toMatchObject({ kind: 'draining', timeKnown: false, plugOut: null });
  });

  test('closed while live comes back as draining, plug not confirmed', () => {
    const amp = liveOnLamp(rulebook);
    amp.clock.restart();
    expect(safetyAt(amp.safety(), amp.clock.now()).energy).toMatchObject({
      kind: 'draining',
      why: 'closed',
      plugOut: null,
      timeKnown: false,
    });
  });

  test('five seconds between the clocks are let pass, six are not', () => {
    const amp = provenDead(rulebook);
    amp.clock.jump(5);
    expect(amp.mayInside()).toBe(true);
    amp.clock.jump(1);
    expect(amp.mayInside()).toBe(false);
  });

  test('a proof lasts 59 idle minutes', () => {
    const amp = provenDead(rulebook);
    amp.wait(59 * 60);
    expect(amp.mayInside()).toBe(true);
    amp.wait(60);
    expect(amp.mayInside()).toBe(false);
  });

  test('an instrument does not keep an idle proof alive', () => {
    const amp = provenDead(rulebook);
    amp.wait(30 * 60);
    // What an instrument sends by itself is refused, and does not count as somebody being there.
    const taken = { reading: 'b2-cold', entry: { kind: 'value', value: 100 }, typed: '100' } as const;
    const judged = { verdict: 'as expected', band: null, bandShownBefore: false, corrects: null } as const;
    amp.force({ kind: 'reading-entered', by: 'instrument', ...taken, ...judged });
    amp.wait(30 * 60);
    expect(amp.mayInside()).toBe(false);
  });

  test('a refused event changes nothing but hears the clock', () => {
    const amp = provenDead(rulebook);
    const before = amp.safety();
    const event = { kind: 'plugged-in', by: 'voice', condition: 'lamp', step: null } as const;
    expect(foldSafety(before, event, amp.clock.now(), amp.facts)).toBe(before);
    amp.clock.restart();
    expect(foldSafety(before, event, amp.clock.now(), amp.facts).energy.kind).toBe('draining');
  });

  test('a broken journal leaves nothing proven', () => {
    const state = distrust(scriptSafety().safety(), 'journal broken');
    expect(state.energy).toMatchObject({ kind: 'draining', why: 'journal broken', mustProve: true });
    expect(state.everPluggedIn).toBe(true);
  });
});

describe('how far a hand goes', () => {
  test('a probe needs the black lead, in live as in draining', () => {
    const amp = liveOnLamp(rulebook);
    expect(mayReach(amp.safety(), 'probe', amp.clock.now())).toBe(true);
    amp.clock.restart();
    expect(mayReach(amp.safety(), 'probe', amp.clock.now())).toBe(false);
    expect(mayReach(amp.safety(), 'outside', amp.clock.now())).toBe(true);
  });

  test('after a stop not even a probe goes near', () => {
    const amp = stopped(rulebook);
    expect(reachRefusals(amp.safety(), 'probe', amp.clock.now()).map((each) => each.code)).toEqual([
      'safety/pull-the-plug',
    ]);
  });

  test('the drain names what is still needed, in order', () => {
    const amp = draining(rulebook);
    expect(drainNeeds(amp.safety(), amp.clock.now(), amp.facts).map((each) => each.code)).toEqual([
      'safety/look-missing',
      'safety/look-missing',
      'safety/meter-not-shown',
      'safety/meter-not-shown',
    ]);
  });
});

describe('stops and alarms', () => {
  test('a stop leads through repair, ohms and lamp stage back to the reading', () => {
    const amp = stopped(rulebook);
    amp.do('plug-out-confirmed');
    amp.wait(240);
    proveDead(amp);
    makeReady(amp, 'lamp');
    expect(amp.codes('plugged-in', { condition: 'lamp', step: 'on-lamp' })).toEqual(['safety/verdict-open']);
    amp.do('repaired', { readings: ['ht-ac'], what: 'winding ends exchanged' });
    expect(amp.codes('plugged-in', { condition: 'lamp', step: 'on-lamp' })).toContain('safety/after-work');
    amp.do('looked-over');
    for (const reading of ['b1-cold', 'b2-cold', 'earth', 'line', 'neutral', 'primary']) enter(amp, reading);
    plugIn(amp, 'lamp', 'on-lamp');
    enter(amp, 'ht-ac', { value: 250 });
    endCondition(amp);
    expect(amp.safety().afterWork).toBeNull();
    expect(amp.safety().readings['ht-ac']).toMatchObject({ verdict: 'as expected', settled: 'settled' });
  });

  test('the lamp stage counts only when its readings were taken again', () => {
    const amp = provenDead(rulebook);
    amp.do('work-inside', { what: 'joint', places: ['TS1.4'], mainsSide: false, soldering: true });
    amp.do('looked-over');
    enter(amp, 'b1-cold');
    plugIn(amp, 'lamp', 'on-lamp');
    endCondition(amp);
    expect(amp.safety().afterWork).toMatchObject({ lampStage: 'needed' });
  });

  test('something wrong allows no re-entry without a proof', () => {
    const amp = wrong(rulebook);
    amp.do('plug-out-confirmed');
    amp.do('wrong-described', { signs: ['smoke or smell'], what: 'behind T1' });
    makeReady(amp, 'lamp');
    expect(amp.codes('plugged-in', { condition: 'lamp', step: 'on-lamp' })).toContain('safety/reentry');
  });

  test('unaffected readings keep their verdicts after work inside', () => {
    const amp = provenDead(rulebook);
    enter(amp, 'b2-cold');
    amp.do('work-inside', { what: 'joint', places: ['TS1.4'], mainsSide: false, soldering: true });
    expect(amp.safety().readings['b2-cold']?.counts).toBe(true);
    expect(amp.safety().readings['b1-cold']?.counts).toBe(false);
    expect(amp.safety().readings['earth']?.counts).toBe(true);
  });

  test('a milder verdict than the figures allow is not believed', () => {
    const amp = liveOnLamp(rulebook);
    enter(amp, 'ht-ac', { value: 301, verdict: 'as expected' });
    expect(amp.safety().energy).toMatchObject({ kind: 'live', mustPull: { kind: 'stop', reading: 'ht-ac' } });
  });

  test('before it is warm a reading is held against its stop limits only', () => {
    const warm = {
      ...finch,
      conditions: finch.conditions.map((each) => ({ ...each, readyAfterSeconds: 60 })),
    };
    const cold = scriptSafety({ facts: warm });
    buildFinch(cold);
    plugIn(cold, 'lamp', 'on-lamp');
    enter(cold, 'ht-ac', { value: 5, verdict: 'out of band' });
    expect(cold.safety().readings['ht-ac']?.verdict).toBe('still warming');
    expect(cold.codes('step-done', { step: 'read-lamp' })).toEqual(['safety/step-not-finished']);
  });

  test('lead ohms are taken off the earth bond', () => {
    const amp = scriptSafety();
    enter(amp, 'earth', { value: 0.45 });
    expect(amp.safety().readings['earth']?.verdict).toBe('as expected');
    enter(amp, 'earth', { value: 0.55 });
    expect(amp.safety().readings['earth']?.verdict).toBe('out of band');
  });

  test('every unmet gate is named at once', () => {
    const amp = scriptSafety();
    const event = { kind: 'plugged-in', by: 'hand', condition: 'lamp', step: 'on-lamp' } as const;
    const codes = new Set(refusals(amp.safety(), event, amp.clock.now(), amp.facts).map((each) => each.code));
    expect([...codes].toSorted()).toEqual([
      'safety/black-lead-first',
      'safety/caution-not-acknowledged',
      'safety/fuse-not-read',
      'safety/gate-not-met',
      'safety/insulation-not-settled',
      'safety/mains-switch-not-off',
      'safety/red-lead',
      'safety/steps-not-done',
    ]);
  });
});

test('a new fuse leads back to the lamp stage', () => {
  const amp = fuseReplaced(rulebook);
  makeReady(amp, 'rectifier');
  expect(amp.codes('plugged-in', { condition: 'rectifier', step: 'on-rectifier' })).toContain(
    'safety/lamp-stage-first',
  );
});

test('volts on one side of a fuse end the proof', () => {
  const amp = provenDead(rulebook);
  amp.do('fuse-sides-looked', { part: 'F1', aVolts: 0, bVolts: -80 });
  expect(amp.safety().energy).toMatchObject({ kind: 'draining', why: 'charge found' });
});

test('steps on the insulation tester are passed over when insulation is recorded as not tested', () => {
  const readInsulation = {
    ...finch.steps[4],
    id: 'read-insulation',
    condition: 'tester',
    action: { kind: 'read', readings: ['insulation'] },
  } as (typeof finch.steps)[number];
  const facts = { ...finch, steps: finch.steps.toSpliced(5, 0, readInsulation) };
  const amp = scriptSafety({ facts });
  buildFinch(amp);
  plugIn(amp, 'lamp', 'on-lamp');
  expect(amp.safety().energy.kind).toBe('live');
});

test('the insulation tester needs the gate but no mains switch off, and is live like any supply', () => {
  const onTester = {
    ...finch.steps[6],
    id: 'on-tester',
    condition: 'tester',
    action: { kind: 'switch-on', condition: 'tester' },
  } as (typeof finch.steps)[number];
  const facts = { ...finch, steps: finch.steps.toSpliced(6, 0, onTester) };
  const amp = scriptSafety({ facts });
  expect(amp.codes('plugged-in', { condition: 'tester', step: 'on-tester' })).toContain(
    'safety/gate-not-met',
  );
  buildFinch(amp);
  makeReady(amp, 'tester');
  enter(amp, 'b2-cold');
  amp.do('plugged-in', { condition: 'tester', step: 'on-tester' });
  expect(amp.mayInside()).toBe(false);
  enter(amp, 'insulation', { value: 5e6 });
  expect(amp.safety().readings['insulation']).toMatchObject({ verdict: 'as expected', counts: true });
});

test('a kit cannot raise the safe voltage above 60 V', () => {
  const amp = scriptSafety({ startedFrom: 'assembled', facts: { ...finch, safeVolts: 200 } });
  proveDead(amp, () => 61);
  expect(amp.mayInside()).toBe(false);
  proveDead(amp, () => 59);
  expect(amp.mayInside()).toBe(true);
});

test('declared steps count for gather and assemble, never for inspection or the gate', () => {
  const amp = scriptSafety({ startedFrom: 'assembled' });
  amp.do('declared-assembled');
  expect(amp.safety().steps).toMatchObject({
    gather: { status: 'declared' },
    'wire-ht': { status: 'declared' },
  });
  expect(amp.safety().steps['look']).toBeUndefined();
  expect(amp.safety().energy.kind).toBe('draining');
});

test.each([
  ['heard just now', { lastHeardTick: 1000, nowTick: 1500, wokeFromSleep: false, isWriter: true }, true],
  [
    'silent for two seconds',
    { lastHeardTick: 1000, nowTick: 3000, wokeFromSleep: false, isWriter: true },
    false,
  ],
  ['never heard', { lastHeardTick: null, nowTick: 3000, wokeFromSleep: false, isWriter: true }, false],
  ['woken from sleep', { lastHeardTick: 1000, nowTick: 1500, wokeFromSleep: true, isWriter: true }, false],
  ['not the writer', { lastHeardTick: 1000, nowTick: 1500, wokeFromSleep: false, isWriter: false }, false],
])('a screen that is %s', (_, hearing, isKnown) => {
  expect(isStateKnown(hearing)).toBe(isKnown);
});
