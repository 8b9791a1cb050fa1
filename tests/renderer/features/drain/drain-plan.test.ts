import { describe, expect, it } from 'vitest';
import { drainTask, secondsToWorthIt, storeWords } from '../../../../renderer/features/drain/drain-plan.ts';
import type { DrainTask } from '../../../../renderer/features/drain/drain-plan.ts';
import { drainNeeds } from '../../../../shared-core/safety/safety.ts';
import { dcSetup } from '../../../helpers/journey.ts';
import { fakeBridge } from '../../helpers/fake-bridge.ts';
import type { FakeBridge } from '../../helpers/fake-bridge.ts';
import { walkTo } from '../../helpers/walk-to.ts';

function draining(): FakeBridge {
  const bridge = fakeBridge();
  walkTo(bridge, 'off-rectifier');
  bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
  return bridge;
}

function taskOf(bridge: FakeBridge, batteryVolts: number | null = 9): DrainTask | null {
  const { build, facts, now } = bridge.view();
  const { safety } = build;
  if (safety.energy.kind !== 'draining') return null;
  const needs = drainNeeds(safety, now, facts);
  return drainTask({ draining: safety.energy, safety, facts, now, setup: dcSetup, needs, batteryVolts });
}

function look(bridge: FakeBridge, store: string, volts: number): void {
  bridge.pass(4);
  bridge.do({ kind: 'store-look', store, volts, setup: dcSetup, enteredAfterMs: 4000, by: 'hand' });
}

const show = (bridge: FakeBridge): void =>
  bridge.do({ kind: 'meter-shown-to-work', setup: dcSetup, volts: 9.1, by: 'hand' });

describe('the way from draining to dead', () => {
  it('shows the meter to work before anything is believed', () => {
    expect(taskOf(draining())).toEqual({ kind: 'meter', when: 'before' });
  });

  it('goes straight to the looks where there is no battery: a store seen falling shows the meter', () => {
    expect(taskOf(draining(), null)).toMatchObject({ kind: 'look', which: 'first' });
  });

  it('counts down to the moment when measuring is worth it, and never below nothing', () => {
    const bridge = draining();
    show(bridge);
    const first = taskOf(bridge);
    const likely = bridge.view().facts.stores.map(({ likelySeconds }) => likelySeconds ?? 0);
    // 200 s of warm-up are before the plug came out; the clock of the drain starts with it.
    expect(first).toMatchObject({ kind: 'look', which: 'first', waitSeconds: Math.min(...likely) });
    bridge.pass(500);
    expect(taskOf(bridge)).toMatchObject({ waitSeconds: 0 });
  });

  it('asks for checks at once when a look is too low, before any other store', () => {
    const bridge = draining();
    show(bridge);
    look(bridge, 'C2', 0.01);
    expect(taskOf(bridge)).toEqual({ kind: 'checks', store: 'C2' });
  });

  it('waits 60 s for the second look, then shows the meter once more', () => {
    const bridge = draining();
    show(bridge);
    bridge.pass(45);
    for (const { part } of bridge.view().facts.stores) look(bridge, part, 12);
    const waiting = taskOf(bridge);
    expect(waiting).toMatchObject({ kind: 'look', which: 'second', store: 'C1' });
    // The last of the four looks came 12 s after the first.
    expect(waiting?.kind === 'look' ? waiting.waitSeconds : 0).toBeCloseTo(60 - 12, 6);
    bridge.pass(60);
    for (const { part } of bridge.view().facts.stores) look(bridge, part, 12);
    expect(taskOf(bridge)).toEqual({ kind: 'meter', when: 'after' });
    show(bridge);
    expect(bridge.view().build.safety.energy.kind).toBe('dead');
  });

  it('has no countdown where the time is unknown', () => {
    const bridge = fakeBridge('assembled');
    bridge.do({ kind: 'plug-out-confirmed', by: 'hand' });
    const { build, facts, now } = bridge.view();
    if (build.safety.energy.kind !== 'draining') throw new Error('not draining');
    expect(secondsToWorthIt('C1', build.safety.energy, facts, now)).toBeNull();
    expect(taskOf(bridge)).toEqual({ kind: 'black-lead' });
  });
});

describe('a store in words', () => {
  it('is never called proven by waiting', () => {
    expect(storeWords(undefined, false)).toBe('not measured');
    expect(storeWords({ looks: [], first: null, second: null, needsChecks: false }, true)).toBe(
      'not measured',
    );
  });
});
