import { describe, expect, it } from 'vitest';
import { alarmsOf } from '../../../../renderer/features/alarm/alarms.ts';
import type { AlarmBasis } from '../../../../renderer/features/alarm/alarms.ts';
import { dcSetup } from '../../../helpers/journey.ts';
import { fakeBridge } from '../../helpers/fake-bridge.ts';
import type { FakeBridge } from '../../helpers/fake-bridge.ts';
import { switchOn, walkTo } from '../../helpers/walk-to.ts';

/** What the alarms are told by, a while after what was done last, in seconds (s). */
function after(bridge: FakeBridge, seconds: number): AlarmBasis {
  const view = bridge.view();
  const now = { ...view.now, tick: view.now.tick + seconds * 1000 };
  return { ...view, now, safety: view.build.safety };
}

const words = (basis: AlarmBasis): readonly string[] => alarmsOf(basis).map((each) => each.words);

describe('alarms', () => {
  const bridge = fakeBridge();
  walkTo(bridge, 'on-lamp');
  switchOn(bridge, 'lamp-no-valves', 'on-lamp');

  it('asks for the plug after five minutes on the lamp with a valve fitted, and not without one', () => {
    const basis = after(bridge, 600);
    expect(alarmsOf(basis)).toEqual([]);
    const [alarm] = alarmsOf({ ...basis, safety: { ...basis.safety, valvesFitted: ['V3'] } });
    expect(alarm).toMatchObject({
      level: 'danger',
      words: expect.stringMatching(/^5 minutes.*Pull the plug now: F9/),
    });
  });

  it('says when a reading of the soak is due, when its time is over, and nothing once it is read', () => {
    const soak = fakeBridge();
    walkTo(soak, 'soak-1');
    soak.do({ kind: 'step-started', step: 'soak-1', by: 'hand' });
    expect(words(after(soak, 299))).toEqual([]);
    expect(words(after(soak, 301))).toEqual(['Due now: Cathode of V2.']);
    expect(words(after(soak, 601))).toEqual(['The time is over. Read again: Cathode of V2.']);
    expect(alarmsOf(after(soak, 301))[0]?.id).not.toBe(alarmsOf(after(soak, 601))[0]?.id);
  });

  it('says for a quarter of a minute that the valves are warm', () => {
    const warm = fakeBridge();
    walkTo(warm, 'on-running');
    switchOn(warm, 'running', 'on-running');
    const { energy } = warm.view().build.safety;
    if (energy.kind !== 'live') throw new Error('It is not live');
    const passed = (warm.view().now.tick - energy.since.tick) / 1000;
    // Heron's valves are ready after 120 s.
    expect(words(after(warm, 119 - passed))).toEqual([]);
    expect(words(after(warm, 121 - passed))).toEqual(['Warmed up: readings are judged now.']);
    expect(words(after(warm, 136 - passed))).toEqual([]);
  });

  it('says of each store by itself when its own minute is over', () => {
    const drain = fakeBridge();
    walkTo(drain, 'on-lamp');
    switchOn(drain, 'lamp-no-valves', 'on-lamp');
    drain.do({ kind: 'plug-out-confirmed', by: 'hand' });
    drain.do({ kind: 'black-lead-clipped', by: 'hand' });
    drain.do({ kind: 'meter-shown-to-work', setup: dcSetup, volts: 9.1, by: 'hand' });
    drain.pass(300);
    const [first, second] = drain.view().facts.stores.map(({ part }) => part);
    const look = (store = ''): void =>
      drain.do({ kind: 'store-look', store, volts: 0.1, setup: dcSetup, enteredAfterMs: 5000, by: 'hand' });
    look(first);
    drain.pass(10);
    look(second);
    expect(words(after(drain, 49))).toEqual([]);
    expect(words(after(drain, 51)).join()).toContain(`first look at ${first}: look again`);
    expect(words(after(drain, 51)).join()).not.toContain(`${second}:`);
    expect(words(after(drain, 61)).join()).toContain(`${second}: look again`);
  });
});
