import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judge } from '../../../shared-core/bands/judge.ts';
import type { ReadingPrediction } from '../../../shared-core/prediction/prediction.ts';

const settled = { secondsSinceSwitchOn: 300, readyAfter: 120 };

function predict(changes: Partial<ReadingPrediction> = {}): ReadingPrediction {
  return {
    ...{ id: 'b1', at: 'TS1.4', against: 'gnd', measure: 'dc volts', unit: 'V' },
    ...{ predicted: 'value', source: 'computed' },
    ...{ nominal: 250, low: 235, high: 265, lowest: 230, highest: 270, stopAbove: 400, stopBelow: -10 },
    ...{ probes: { red: 250, black: 0 }, neighbours: [], settleSeconds: null, contributors: [], why: null },
    ...changes,
  } as ReadingPrediction;
}

const value = (volts: number) => ({ kind: 'value', value: volts }) as const;
const overload = { kind: 'overload' } as const;

describe('judge', () => {
  it('says as expected with the distance in percent', () => {
    const judgement = judge(predict(), value(255), settled);
    expect(judgement).toEqual({
      verdict: 'as expected',
      percentFromNominal: 2,
      words: 'as expected · 2 % above',
    });
  });

  it('says borderline between the inner and the outer band, out of band beyond', () => {
    expect(judge(predict(), value(232), settled).verdict).toBe('borderline');
    expect(judge(predict(), value(229.9), settled).verdict).toBe('out of band');
    expect(judge(predict(), value(270.1), settled).words).toBe('out of band · 8 % above');
  });

  it('gets no milder as a reading goes further from nominal', () => {
    const order = ['as expected', 'borderline', 'out of band', 'stop'];
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 300, noNaN: true }),
        fc.double({ min: 0, max: 300, noNaN: true }),
        (a, b) => {
          const [near, far] = a < b ? [a, b] : [b, a];
          for (const sign of [1, -1]) {
            const first = judge(predict(), value(250 + sign * near), settled).verdict;
            const second = judge(predict(), value(250 + sign * far), settled).verdict;
            expect(order.indexOf(second)).toBeGreaterThanOrEqual(order.indexOf(first));
          }
        },
      ),
    );
  });

  it('compares stop limits with their sign and tells to pull the plug', () => {
    expect(judge(predict(), value(400.1), settled).verdict).toBe('stop');
    expect(judge(predict(), value(-10.1), settled).words).toBe('stop · below −10\u202fV: pull the plug');
    expect(judge(predict({ stopBelow: null }), value(-500), settled).verdict).toBe('out of band');
  });

  it('judges against stop limits only while the valves warm', () => {
    const early = { secondsSinceSwitchOn: 20.5, readyAfter: 120 };
    expect(judge(predict(), value(330), early).words).toBe('still warming · ready in 100 s');
    expect(judge(predict(), value(401), early).verdict).toBe('stop');
    expect(judge(predict(), value(250), { ...early, secondsSinceSwitchOn: 120 }).verdict).toBe('as expected');
  });

  it('takes OL on a live voltage for a stop', () => {
    expect(judge(predict(), overload, settled).verdict).toBe('stop');
  });

  it('takes OL as right exactly where OL is predicted', () => {
    const ohms = { measure: 'ohms', unit: 'Ω', stopAbove: null, stopBelow: null } as const;
    const open = predict({ ...ohms, predicted: 'overload', nominal: null, low: null, high: null });
    expect(judge(open, overload, settled).verdict).toBe('as expected');
    expect(judge(open, value(25e6), settled).verdict).toBe('borderline');
    expect(judge(open, value(47e3), settled).words).toBe('out of band · 47\u202fkΩ where OL is expected');
    expect(judge({ ...open, source: 'stated' }, value(25e6), settled).verdict).toBe('out of band');
    expect(judge(predict(ohms), overload, settled).verdict).toBe('out of band');
  });

  it('judges a stated reading by its limits alone', () => {
    const bond = predict({
      ...{ unit: 'Ω', measure: 'ohms', source: 'stated', nominal: null, low: null, high: 0.3 },
      ...{ lowest: null, highest: null, stopAbove: null, stopBelow: null },
    });
    expect(judge(bond, value(0.12), settled).words).toBe('as expected · below 300\u202fmΩ, as it should be');
    expect(judge(bond, value(0.31), settled).verdict).toBe('out of band');
  });

  it('says why where nothing is predicted', () => {
    const none = predict({
      predicted: 'none',
      nominal: null,
      why: 'on the lamp only short or no short is judged',
    });
    expect(judge(none, value(100), settled).words).toContain('on the lamp');
    expect(judge(none, value(401), settled).verdict).toBe('stop');
  });

  it('lets conditioning make a verdict stricter, never milder', () => {
    const narrow = predict({ nominal: 240, low: 238, high: 242, lowest: 236, highest: 244 });
    const wide = predict({ low: 0, high: 500, lowest: 0, highest: 500 });
    expect(judge(predict(), value(262), settled, narrow).verdict).toBe('out of band');
    expect(judge(predict(), value(280), settled, wide).verdict).toBe('out of band');
  });
});
