import { describe, expect, test } from 'vitest';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { finch, finchFixedBias } from '../../helpers/finch.ts';
import { enter, lookAll, makeReady, plugIn, proveDead, showMeter } from '../../helpers/journey.ts';
import {
  buildFinch,
  endCondition,
  scriptSafety,
  type ScriptedSafety,
} from '../../helpers/scripted-safety.ts';
import { draining, fitClips, liveOnLamp, provenDead } from '../../helpers/safety/stages.ts';

const joint = { what: 'joint', places: ['TS1.4'], mainsSide: false, soldering: true };

function counts(amp: ScriptedSafety, reading: string): boolean | undefined {
  return amp.safety().readings[reading]?.counts;
}

/** Finch after its rectifier stage, proven dead. */
function afterRectifier(facts = finch): ScriptedSafety {
  const amp = scriptSafety({ facts });
  buildFinch(amp);
  plugIn(amp, 'lamp', 'on-lamp');
  enter(amp, 'ht-ac', { value: 250 });
  amp.do('step-done', { step: 'read-lamp' });
  endCondition(amp);
  for (const step of ['off-lamp', 'drain-lamp', 'fit-v3']) amp.do('step-done', { step });
  plugIn(amp, 'rectifier', 'on-rectifier');
  enter(amp, 'b1-unloaded', { value: 340 });
  return amp;
}

describe('work inside takes back', () => {
  test('the live readings on its nets', () => {
    const amp = afterRectifier();
    endCondition(amp);
    expect(counts(amp, 'b1-unloaded')).toBe(true);
    amp.do('work-inside', joint);
    expect(counts(amp, 'b1-unloaded')).toBe(false);
  });

  test('the whole cold gate when it was on the mains side', () => {
    const amp = provenDead(rulebook);
    amp.do('work-inside', { ...joint, mainsSide: true });
    expect(['earth', 'line', 'neutral', 'primary'].map((each) => counts(amp, each))).toEqual([
      false,
      false,
      false,
      false,
    ]);
    expect(amp.safety().gate).toEqual({ insulationNotTested: false, fusesRead: [] });
  });

  test('every bias reading and the adjusters', () => {
    const amp = afterRectifier(finchFixedBias);
    enter(amp, 'v2-bias', { value: -40 });
    endCondition(amp);
    amp.do('adjuster-set', { adjuster: 'P1', mostNegative: true });
    amp.do('work-inside', joint);
    expect(counts(amp, 'v2-bias')).toBe(false);
    expect(amp.safety().adjustersMostNegative).toEqual([]);
  });

  test('the adjuster, once a step has turned it: a valve fitted later waits for it', () => {
    const adjust = {
      ...finch.steps[0],
      ...{ id: 'set-bias', title: 'set bias', reach: 'probe', required: false },
      action: { kind: 'adjust', control: 'P1', reading: 'b2-running', target: 1, within: 0.1 },
    } as (typeof finch.steps)[0];
    const amp = afterRectifier({ ...finchFixedBias, steps: [...finchFixedBias.steps, adjust] });
    enter(amp, 'v2-bias', { value: -40 });
    endCondition(amp);
    const valve = { socket: 'V2', type: 'EL34', brand: '', dateCode: '', stock: 'new', label: '' } as const;
    amp.do('adjuster-set', { adjuster: 'P1', mostNegative: true });
    expect(amp.codes('valve-fitted', valve)).toEqual([]);
    amp.do('step-started', { step: 'set-bias' });
    expect(amp.codes('valve-fitted', valve)).toEqual(['safety/bias-not-proven']);
  });

  test('every cold reading when its places are not known', () => {
    const amp = provenDead(rulebook);
    amp.do('work-inside', { ...joint, places: ['TS9.9'] });
    expect(amp.safety().afterWork?.readings).toEqual(expect.arrayContaining(['b1-cold', 'b2-cold', 'earth']));
  });

  test('a wiring step counts as work once the amplifier has been plugged in, not before', () => {
    const loose = scriptSafety();
    loose.do('step-done', { step: 'wire-ht' });
    expect(loose.safety().afterWork).toBeNull();
    const amp = provenDead(rulebook);
    amp.do('step-done', { step: 'wire-ht' });
    expect(amp.safety().afterWork).toMatchObject({ lampStage: 'needed' });
    const valves = provenDead(rulebook);
    valves.do('step-done', { step: 'fit-v3' });
    expect(valves.safety().afterWork).toBeNull();
  });
});

describe('what ends a proof without a clock', () => {
  test('somebody finds the plug in', () => {
    const amp = provenDead(rulebook);
    amp.do('found-plugged-in', { by: 'voice' });
    expect(amp.safety().energy).toMatchObject({ kind: 'draining', why: 'found plugged in', plugOut: null });
  });

  test('loose parts turn out to be assembled elsewhere', () => {
    const amp = scriptSafety();
    amp.do('declared-assembled');
    expect(amp.mayInside()).toBe(false);
  });

  test('a suspect part of the journal was put aside', () => {
    const amp = provenDead(rulebook);
    amp.do('journal-cut', { suspect: false, why: 'unfinished last line' });
    expect(amp.mayInside()).toBe(true);
    amp.do('journal-cut', { suspect: true, why: 'line 7' });
    expect(amp.safety().energy).toMatchObject({ kind: 'draining', why: 'journal broken' });
  });

  test('an assembled amplifier, once proven, lapses with a restart like any other', () => {
    const amp = scriptSafety({ startedFrom: 'assembled' });
    proveDead(amp);
    expect(amp.mayInside()).toBe(true);
    amp.clock.restart();
    expect(amp.mayInside()).toBe(false);
  });
});

test('every confirmation is asked again after a restart', () => {
  const amp = scriptSafety();
  buildFinch(amp);
  makeReady(amp, 'lamp');
  amp.clock.restart();
  amp.do('run-started');
  expect(amp.safety()).toMatchObject({
    redLeadInVolts: false,
    blackLeadClipped: false,
    mainsSwitchOff: false,
    acknowledged: {},
  });
  const live = liveOnLamp(rulebook);
  live.clock.restart();
  live.do('run-started');
  expect(live.safety()).toMatchObject({ blackLeadClipped: false, acknowledged: {} });
});

test('a clip of an earlier drain replaces no second look', () => {
  const amp = draining(rulebook);
  fitClips(amp);
  proveDead(amp);
  amp.wait(3600);
  amp.do('plug-out-confirmed');
  amp.do('black-lead-clipped');
  showMeter(amp);
  lookAll(amp, () => 0.1);
  showMeter(amp);
  expect(amp.mayInside()).toBe(false);
});

test('a stop stays a stop while the amplifier warms up again', () => {
  const slow = { ...finch, conditions: finch.conditions.map((each) => ({ ...each, readyAfterSeconds: 60 })) };
  const amp = scriptSafety({ facts: slow });
  buildFinch(amp);
  plugIn(amp, 'lamp', 'on-lamp');
  enter(amp, 'ht-ac', { value: 400 });
  endCondition(amp);
  amp.do('repaired', { readings: ['ht-ac'], what: 'joint' });
  amp.do('looked-over');
  for (const reading of ['b1-cold', 'b2-cold', 'earth', 'line', 'neutral', 'primary']) enter(amp, reading);
  plugIn(amp, 'lamp', 'on-lamp');
  enter(amp, 'ht-ac', { value: 250 });
  expect(amp.safety().readings['ht-ac']).toMatchObject({ verdict: 'stop', settled: 'repaired' });
});

test('a stop stated by the bands holds before the amplifier is warm', () => {
  const slow = { ...finch, conditions: finch.conditions.map((each) => ({ ...each, readyAfterSeconds: 60 })) };
  const amp = scriptSafety({ facts: slow });
  buildFinch(amp);
  plugIn(amp, 'lamp', 'on-lamp');
  enter(amp, 'ht-ac', { value: 250, verdict: 'stop' });
  expect(amp.safety().energy).toMatchObject({ mustPull: { kind: 'stop', reading: 'ht-ac' } });
});

test('a stop is believed from the bands, and below as above', () => {
  const stated = liveOnLamp(rulebook);
  enter(stated, 'ht-ac', { value: 250, verdict: 'stop' });
  expect(stated.safety().energy).toMatchObject({ mustPull: { kind: 'stop' } });
  const below = afterRectifier(finchFixedBias);
  enter(below, 'v2-bias', { value: -91 });
  expect(below.safety().energy).toMatchObject({ mustPull: { kind: 'stop', reading: 'v2-bias' } });
});

test('a revision reopens steps and takes readings back', () => {
  const amp = provenDead(rulebook);
  amp.do('kit-changed', {
    revision: 'B',
    kitHash: 'finch-b',
    reopenedSteps: ['wire-ht'],
    changedReadings: ['earth'],
  });
  expect(amp.safety().steps['wire-ht']?.status).toBe('reopened');
  expect(counts(amp, 'earth')).toBe(false);
  // Other capacitors may be stores now.
  expect(amp.mayInside()).toBe(false);
  proveDead(amp);
  makeReady(amp, 'rectifier');
  expect(amp.codes('plugged-in', { condition: 'rectifier', step: 'on-rectifier' })).toEqual(
    expect.arrayContaining(['safety/steps-not-done', 'safety/gate-not-met']),
  );
});

test('declared steps never stand in for an inspection', () => {
  const amp = scriptSafety({ startedFrom: 'assembled' });
  amp.do('declared-assembled');
  proveDead(amp);
  makeReady(amp, 'lamp');
  const open = amp
    .ask('plugged-in', { condition: 'lamp', step: 'on-lamp' })
    .filter((each) => each.code === 'safety/steps-not-done')
    .map((each) => each.subject);
  expect(open).toEqual(['look', 'cold-read', 'fuse']);
});

test('a cold verdict that was repaired is read again before any plug-in', () => {
  const amp = scriptSafety();
  buildFinch(amp);
  enter(amp, 'b2-cold', { value: 1, verdict: 'out of band' });
  amp.do('repaired', { readings: ['b2-cold'], what: 'splash' });
  makeReady(amp, 'lamp');
  const subjects = amp.ask('plugged-in', { condition: 'lamp', step: 'on-lamp' });
  expect(subjects.some((each) => each.code === 'safety/verdict-open' && each.subject === 'b2-cold')).toBe(
    true,
  );
});
