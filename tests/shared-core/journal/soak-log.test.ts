import { describe, expect, test } from 'vitest';
import { soakLog } from '../../../shared-core/journal/soak-log.ts';
import type { BuildState } from '../../../shared-core/journal/build-state.ts';
import type { SafetyState } from '../../../shared-core/safety/energy-state.ts';
import type { StepFacts } from '../../../shared-core/safety/facts.ts';
import { initialSafety } from '../../../shared-core/safety/initial-safety.ts';

const start = Date.parse('2026-03-07T10:00:00.000Z');
const stamp = (seconds: number) => ({
  at: new Date(start + seconds * 1000).toISOString(),
  run: 'run',
  tick: 50_000 + seconds * 1000,
});

const step: StepFacts = {
  ...{ id: 'soak', title: 'Leave it on', chapter: 'power', reach: 'outside', condition: 'running' },
  action: { kind: 'soak', seconds: 600, readings: ['cathode'] },
  ...{ required: true, mainsSide: false, onlyValves: false, nets: [], cautions: [], inspect: [] },
};

/** Plugged in two minutes before the soak began. */
const safety: SafetyState = {
  ...initialSafety('loose parts'),
  energy: { kind: 'live', since: stamp(-120), condition: 'running', mustPull: null },
  steps: { soak: { status: 'started', ticked: [], started: stamp(0) } },
};

const repeated = [{ id: 'cathode', repeatAfterSeconds: [300, 600, 1800] }];

/** Numbers by their time since the soak began, in seconds (s). */
function log(values: readonly (readonly [number, number])[], nowSeconds: number, condition = 'running') {
  const entries = values.map(([seconds, value], index) => ({
    ...{ seq: index + 1, at: stamp(seconds).at, typed: String(value), verdict: 'as expected' as const },
    ...{
      entry: { kind: 'value' as const, value },
      band: null,
      bandShownBefore: false,
      corrects: null,
      condition,
    },
  }));
  const readings: BuildState['readings'] = {
    cathode: { entries, verdict: 'as expected', settled: 'settled', counts: true, acceptedReason: null },
  };
  return soakLog(step, repeated, { readings }, safety, stamp(nowSeconds));
}

describe('the log of a soak', () => {
  test('is due at the reading’s own times inside the soak, and at its end', () => {
    const row = log([], 10)?.rows[0];
    expect(row?.due).toEqual([
      { seconds: 300, is: 'later' },
      { seconds: 600, is: 'later' },
    ]);
    expect(log([], 10)).toMatchObject({ passedSeconds: 10, leftSeconds: 590 });
  });

  test('tells taken, due now and missed apart', () => {
    const states = (values: readonly (readonly [number, number])[], at: number) =>
      log(values, at)?.rows[0]?.due.map(({ is }) => is);
    expect(states([], 300)).toEqual(['now', 'later']);
    expect(states([[310, 8]], 320)).toEqual(['taken', 'later']);
    expect(states([[299, 8]], 320)).toEqual(['now', 'later']);
    expect(states([], 600)).toEqual(['missed', 'now']);
    expect(states([], 9000)).toEqual(['missed', 'now']);
    expect(
      states(
        [
          [310, 8],
          [601, 8],
        ],
        700,
      ),
    ).toEqual(['taken', 'taken']);
  });

  test('measures the drift against the last number before it, in this stay on the supply', () => {
    // 8.4 V against 8 V is 5 %; the 4 V was read before the plug went in this time.
    const drifted = log(
      [
        [-200, 4],
        [-60, 7],
        [-30, 8],
        [310, 8.4],
      ],
      320,
    )?.rows[0];
    expect(drifted?.drift).toBeCloseTo(0.05, 12);
    expect(drifted?.points.map(({ seconds }) => seconds)).toEqual([-30, 310]);
    expect(
      log(
        [
          [-30, -8],
          [310, -8.4],
        ],
        320,
      )?.rows[0]?.drift,
    ).toBeCloseTo(-0.05, 12);
  });

  test('says no drift of one number, of none, or of a first number of zero', () => {
    expect(log([], 320)?.rows[0]?.drift).toBeNull();
    expect(log([[310, 8]], 320)?.rows[0]?.drift).toBeNull();
    expect(
      log(
        [
          [-30, 0],
          [310, 1],
        ],
        320,
      )?.rows[0]?.drift,
    ).toBeNull();
  });

  test('leaves out what was read in another condition', () => {
    expect(
      log(
        [
          [-30, 8],
          [310, 8.4],
        ],
        320,
        'lamp',
      )?.rows[0]?.points,
    ).toEqual([]);
  });

  test('does not run before its step is begun, or with the plug out', () => {
    expect(soakLog(step, repeated, { readings: {} }, { ...safety, steps: {} }, stamp(10))).toBeNull();
    const dead = initialSafety('loose parts');
    expect(
      soakLog(step, repeated, { readings: {} }, { ...safety, energy: dead.energy }, stamp(10)),
    ).toBeNull();
  });
});
