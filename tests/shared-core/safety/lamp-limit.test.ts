import { describe, expect, test } from 'vitest';
import { lampLeftSeconds, lampLimitSeconds } from '../../../shared-core/safety/lamp-limit.ts';
import type { SafetyFacts } from '../../../shared-core/safety/facts.ts';
import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';
import { finch } from '../../helpers/finch.ts';
import { makeReady } from '../../helpers/journey.ts';
import { buildFinch, scriptSafety } from '../../helpers/scripted-safety.ts';

/** Finch live in a condition. */
function live(condition: string) {
  const amp = scriptSafety({ facts: finch });
  buildFinch(amp);
  makeReady(amp, condition);
  amp.do('plugged-in', { condition, step: `on-${condition}` });
  return amp;
}

const lamp = live('lamp');
const state = lamp.safety();
const now = (seconds: number) => {
  if (state.energy.kind !== 'live') throw new Error('Finch is not live');
  return { ...state.energy.since, tick: state.energy.since.tick + seconds * 1000 };
};
const withValve: SafetyState = { ...state, valvesFitted: ['V3'] };

describe('the time on the lamp limiter', () => {
  test('does not run while every socket is recorded as empty', () => {
    expect(lampLeftSeconds(state, finch, now(1000))).toBeNull();
  });

  test('is five minutes with one valve fitted, and then over', () => {
    expect(lampLimitSeconds).toBe(300);
    expect(lampLeftSeconds(withValve, finch, now(0))).toBe(300);
    expect(lampLeftSeconds(withValve, finch, now(299))).toBe(1);
    expect(lampLeftSeconds(withValve, finch, now(1000))).toBe(0);
  });

  test('counts a socket of which nothing is recorded as fitted', () => {
    expect(lampLeftSeconds({ ...state, socketsUnknown: true, valvesOut: [] }, finch, now(0))).toBe(300);
  });

  test('runs where the kit itself has valves on the lamp', () => {
    const fitted: SafetyFacts = {
      ...finch,
      conditions: finch.conditions.map((each) => (each.id === 'lamp' ? { ...each, fitted: ['V3'] } : each)),
    };
    expect(lampLeftSeconds(state, fitted, now(10))).toBe(290);
  });

  test('is over at once in a run of the app that did not see the plug go in', () => {
    expect(lampLeftSeconds(withValve, finch, { ...now(0), run: 'another' })).toBe(0);
  });

  test('runs on the lamp only, and only while live', () => {
    const onMains: SafetyFacts = {
      ...finch,
      conditions: finch.conditions.map((each) => (each.id === 'lamp' ? { ...each, supply: 'mains' } : each)),
    };
    expect(lampLeftSeconds(withValve, onMains, now(0))).toBeNull();
    lamp.do('plug-out-confirmed');
    expect(lampLeftSeconds({ ...lamp.safety(), valvesFitted: ['V3'] }, finch, now(10))).toBeNull();
  });
});
