import { expect, test } from 'vitest';
import { finch } from '../../helpers/finch.ts';
import { curveVolts } from '../../../shared-core/safety/drain-curve.ts';
import { rulebook } from '../../../shared-core/safety/rulebook.ts';
import { dcSetup, look, lookAll, plugIn, proveDead, showMeter } from '../../helpers/journey.ts';
import { scriptSafety, type ScriptedSafety } from '../../helpers/scripted-safety.ts';
import {
  clip,
  deadAt,
  draining,
  fitClips,
  liveOnLamp,
  provenDead,
  ready,
} from '../../helpers/safety/stages.ts';

const start = (): ScriptedSafety => draining(rulebook);

function progress(amp: ScriptedSafety, store: string) {
  const { energy } = amp.safety();
  return energy.kind === 'live' ? undefined : energy.stores[store];
}

test('two looks at every store 60 s apart, with the meter shown before and after, prove it dead', () => {
  const amp = start();
  proveDead(amp);
  expect(amp.safety().energy).toMatchObject({ kind: 'dead', proof: 'measured' });
  expect(amp.mayInside()).toBe(true);
});

test('each store waits for its own first look', () => {
  const amp = start();
  showMeter(amp);
  look(amp, 'C1', 0.1);
  amp.wait(40);
  look(amp, 'C2', 0.1);
  amp.wait(20);
  look(amp, 'C1', 0.1);
  look(amp, 'C2', 0.1);
  showMeter(amp);
  expect(amp.mayInside()).toBe(false);
  amp.wait(40);
  look(amp, 'C2', 0.1);
  showMeter(amp);
  expect(amp.mayInside()).toBe(true);
});

test('a look above the safe voltage starts its store again', () => {
  const amp = start();
  showMeter(amp);
  lookAll(amp, () => 0.1);
  amp.wait(61);
  look(amp, 'C1', 31);
  look(amp, 'C2', 0.1);
  showMeter(amp);
  expect(amp.mayInside()).toBe(false);
  expect(progress(amp, 'C1')?.first).toBeNull();
});

test('the sign of a look is ignored', () => {
  const amp = start();
  showMeter(amp);
  look(amp, 'C1', -200);
  expect(progress(amp, 'C1')?.first).toBeNull();
});

test('a clip replaces the second look of its own store only', () => {
  const amp = start();
  amp.do('clip-fitted', { store: 'C1', ...clip });
  showMeter(amp);
  lookAll(amp, () => 0.1);
  showMeter(amp);
  expect(amp.mayInside()).toBe(false);
  amp.wait(50);
  look(amp, 'C2', 0.1);
  showMeter(amp);
  expect(amp.mayInside()).toBe(true);
});

test('a clip taken off before a minute is over ends the proof that rested on it', () => {
  const amp = start();
  fitClips(amp);
  showMeter(amp);
  lookAll(amp, () => 0.1);
  showMeter(amp);
  expect(amp.mayInside()).toBe(true);
  amp.do('clip-removed', { store: 'C1' });
  expect(amp.mayInside()).toBe(false);
});

test('a store seen falling shows that the meter works', () => {
  const amp = draining(rulebook);
  amp.do('plug-out-confirmed');
  look(amp, 'C1', 100);
  look(amp, 'C1', 60);
  lookAll(amp, () => 20);
  amp.wait(61);
  look(amp, 'C1', 8);
  look(amp, 'C2', 19.9);
  expect(amp.mayInside()).toBe(false);
  look(amp, 'C2', 12);
  expect(amp.mayInside()).toBe(true);
});

test('a first look below the fast curve asks for the checks and proves nothing before', () => {
  const amp = liveOnLamp(rulebook);
  amp.do('plug-out-confirmed');
  showMeter(amp);
  amp.do('store-look', { store: 'C1', volts: 2, setup: dcSetup, enteredAfterMs: 4000 });
  // C1 falls fastest with 10 s from 340 V: 340·exp(−5/10) = 206 V after the 5 s of the battery check.
  expect(progress(amp, 'C1')?.looks[0]?.fastVolts).toBeCloseTo(206.2, 1);
  expect(progress(amp, 'C1')?.needsChecks).toBe(true);
});

test('after a condition that charged nothing a look at nothing is no lower than the drain', () => {
  const flat = { seconds: [0, 100], volts: [0, 0] };
  const after = { lamp: { fastSeconds: 0, likelySeconds: 0, fast: flat, likely: flat } };
  const facts = { ...finch, stores: finch.stores.map((store) => ({ ...store, after })) };
  const onlyRunning = {
    ...finch,
    stores: finch.stores.map((store) => ({ ...store, after: { running: after.lamp } })),
  };
  for (const [known, asks] of [
    [facts, false],
    [onlyRunning, true],
  ] as const) {
    const amp = ready(() => undefined, known)(rulebook);
    amp.do('plugged-in', { condition: 'lamp', step: 'on-lamp' });
    amp.do('plug-out-confirmed');
    showMeter(amp);
    amp.do('store-look', { store: 'C1', volts: 0, setup: dcSetup, enteredAfterMs: 4000 });
    expect(progress(amp, 'C1')?.needsChecks).toBe(asks);
  }
});

test('a look on the likely curve is believed', () => {
  const amp = liveOnLamp(rulebook);
  amp.do('plug-out-confirmed');
  amp.wait(55);
  showMeter(amp);
  const volts = 340 * Math.exp(-60 / 20);
  amp.do('store-look', { store: 'C1', volts, setup: dcSetup, enteredAfterMs: 4000 });
  expect(progress(amp, 'C1')).toMatchObject({ needsChecks: false, first: { volts } });
});

test('a drain slower than slow is a finding', () => {
  const amp = start();
  amp.do('store-look', { store: 'C1', volts: 100, setup: dcSetup, enteredAfterMs: 4000 });
  expect(amp.safety().findings).toMatchObject([{ kind: 'slow drain', store: 'C1', volts: 100 }]);
});

test('charge that creeps back to a few volts is no finding', () => {
  const amp = start();
  // Slow stands below 1 V by now: 340 V with 40 s, four minutes after the plug.
  amp.do('store-look', { store: 'C1', volts: 4.9, setup: dcSetup, enteredAfterMs: 4000 });
  expect(amp.safety().findings).toEqual([]);
  amp.do('store-look', { store: 'C1', volts: 5.1, setup: dcSetup, enteredAfterMs: 4000 });
  expect(amp.safety().findings).toMatchObject([{ kind: 'slow drain', volts: 5.1 }]);
});

test('looks typed faster than a probe can move are marked', () => {
  const amp = start();
  showMeter(amp);
  amp.do('store-look', { store: 'C1', volts: 20, setup: dcSetup, enteredAfterMs: 4000 });
  amp.wait(1);
  amp.do('store-look', { store: 'C2', volts: 20, setup: dcSetup, enteredAfterMs: 4000 });
  expect(progress(amp, 'C1')?.looks[0]?.hurried).toBe(false);
  expect(progress(amp, 'C2')?.looks[0]?.hurried).toBe(true);
});

test('at an unknown time every first look asks for the checks', () => {
  const amp = scriptSafety({ startedFrom: 'assembled' });
  amp.do('plug-out-confirmed');
  amp.do('black-lead-clipped');
  showMeter(amp);
  amp.do('store-look', { store: 'C1', volts: 20, setup: dcSetup, enteredAfterMs: 4000 });
  expect(progress(amp, 'C1')?.needsChecks).toBe(true);
});

test('a charge found in a dead amplifier ends the proof', () => {
  const amp = provenDead(rulebook);
  look(amp, 'C2', 45);
  expect(amp.safety().energy).toMatchObject({ kind: 'draining', why: 'charge found', plugOut: null });
});

test('soldering waits for 5 V, ohms for half a volt', () => {
  const amp = deadAt(12)(rulebook);
  const work = { what: 'joint', places: ['TS1.4'], mainsSide: false, soldering: true };
  expect(amp.codes('work-inside', work)).toEqual(['safety/solder-volts', 'safety/solder-volts']);
  look(amp, 'C1', 4.9);
  look(amp, 'C2', 4.9);
  expect(amp.codes('work-inside', work)).toEqual([]);
});

test('the same condition may be entered again untouched, and its drain starts anew', () => {
  const amp = start();
  plugInAgain(amp);
  amp.do('plug-out-confirmed');
  expect(amp.safety().energy).toMatchObject({ kind: 'draining', timeKnown: true, untouched: true });
});

function plugInAgain(amp: ScriptedSafety): void {
  // The black lead stays on from before: clipping it anew would count as a moved clip.
  plugIn(amp, 'lamp', 'on-lamp');
  expect(amp.safety().energy.kind).toBe('live');
}

test('a curve is read between and beyond its samples', () => {
  const seconds = [0, 10, 20];
  const curve = { seconds, volts: seconds.map((each) => 100 * Math.exp(-each / 10)) };
  // An exponential is a straight line in the logarithm: exact up to rounding, inside and outside.
  expect(curveVolts(curve, 5)).toBeCloseTo(100 * Math.exp(-0.5), 9);
  expect(curveVolts(curve, 40)).toBeCloseTo(100 * Math.exp(-4), 9);
  expect(curveVolts({ seconds: [], volts: [] }, 1)).toBeNull();
});
