import { describe, expect, it } from 'vitest';
import { barWords } from '../../../../renderer/features/bar/bar-words.ts';
import { fakeBridge, heron } from '../../helpers/fake-bridge.ts';
import { walkTo } from '../../helpers/walk-to.ts';

function wordsAt(step: string | null) {
  const bridge = fakeBridge();
  if (step !== null) walkTo(bridge, step);
  const { build, facts, kit, now } = bridge.view();
  return barWords({ safety: build.safety, facts, kit, bench: build.bench, now });
}

describe('the energy bar in words', () => {
  it('says that loose parts were never plugged in', () => {
    expect(wordsAt(null)).toMatchObject({ look: 'dead', state: 'Dead', details: ['never plugged in'] });
  });

  it('says what the amplifier is on, and for how long', () => {
    const { look, details } = wordsAt('read-lamp');
    expect(look).toBe('live');
    expect(details).toEqual([
      'plug in',
      '230\u202fV',
      'On the lamp limiter, no valves',
      '3\u202fmin 20\u202fs',
    ]);
  });

  it('says when the proof was complete and for how many stores', () => {
    const { look, details } = wordsAt('fit-v3');
    expect(look).toBe('dead');
    expect(details[0]).toMatch(/^proven \d\d:\d\d$/);
    expect(details[1]).toBe(`${heron.facts.stores.length} stores below 30\u202fV`);
  });

  it('never says dead for a build whose past is not known', () => {
    const { build, facts, kit, now } = fakeBridge('assembled').view();
    const { look, details } = barWords({ safety: build.safety, facts, kit, bench: null, now });
    expect(look).toBe('draining');
    expect(details).toEqual(['time unknown', 'plug not confirmed out']);
  });
});
