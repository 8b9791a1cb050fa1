import { describe, expect, it } from 'vitest';
import { adjustHint } from '../../../shared-core/prediction/adjust-hint.ts';
import type { AdjusterCurve } from '../../../shared-core/prediction/adjuster-curve.ts';

/** value = low + (high − low)·p: every figure below follows by hand. */
function straight(low: number, high: number): AdjusterCurve {
  const points = Array.from({ length: 21 }, (_, step) => ({
    position: step / 20,
    value: low + ((high - low) * step) / 20,
  }));
  return { control: 'P1', reading: 'bias', points };
}

/** 8 V within 5 %: 7.6 V to 8.4 V. */
const aim = { target: 8, within: 0.05 };

describe('adjustHint', () => {
  it('turns up a rising control and down a falling one', () => {
    // 0 to 10 V: 10 V for the whole travel, so 0.8 V are 8 % of it, and a twentieth moves 0.5 V.
    const rising = adjustHint(aim, straight(0, 10), [7.2]);
    expect(rising).toMatchObject({ isThere: false, direction: 'clockwise', end: null });
    expect(rising.toGo).toBeCloseTo(0.8, 12);
    expect(rising.share).toBeCloseTo(0.08, 12);
    expect(rising.perTwentieth).toBeCloseTo(0.5, 12);
    expect(adjustHint(aim, straight(10, 0), [7.2]).direction).toBe('anticlockwise');
    expect(adjustHint(aim, straight(10, 0), [8.8]).direction).toBe('clockwise');
    expect(adjustHint(aim, straight(0, 10), [8.8]).direction).toBe('anticlockwise');
  });

  it('goes by the sign of a negative target', () => {
    // −60 V anticlockwise to −20 V clockwise; −50 V read, −40 V wanted: less negative, clockwise, a quarter.
    const hint = adjustHint({ target: -40, within: 0.02 }, straight(-60, -20), [-50]);
    expect(hint).toMatchObject({ direction: 'clockwise', isThere: false });
    expect(hint.share).toBeCloseTo(0.25, 12);
  });

  it('takes the sensitivity at the present position, not the mean of the travel', () => {
    const points = Array.from({ length: 21 }, (_, step) => ({
      position: step / 20,
      value: 10 * (step / 20) ** 2,
    }));
    // v = 10·p²: at 2.5 V p = 0.5 and dv/dp = 10, so a twentieth moves 0.5 V (central difference of a parabola: exact).
    const hint = adjustHint(aim, { ...straight(0, 1), points }, [2.5]);
    expect(hint.perTwentieth).toBeCloseTo(0.5, 9);
  });

  it('says when the last turn went past the target, moved away from it, or moved nothing', () => {
    const curve = straight(0, 10);
    expect(adjustHint(aim, curve, [7, 8.8])).toMatchObject({ isOvershot: true, lastTurn: null });
    expect(adjustHint(aim, curve, [7, 6.5])).toMatchObject({ isOvershot: false, lastTurn: 'away' });
    expect(adjustHint(aim, curve, [7, 7.05])).toMatchObject({ isOvershot: false, lastTurn: 'nothing' });
    expect(adjustHint(aim, curve, [7, 7.5])).toMatchObject({ isOvershot: false, lastTurn: null });
    // Already on target before: a drift, no overshoot.
    expect(adjustHint(aim, curve, [8, 8.8])).toMatchObject({ isOvershot: false, lastTurn: null });
  });

  it('says when the end of the travel does not reach the target, or hardly does', () => {
    const short = adjustHint(aim, straight(0, 7), [6]);
    expect(short).toMatchObject({ end: 'beyond', share: null, endValue: 7, direction: 'clockwise' });
    expect(adjustHint(aim, straight(0, 8.2), [6]).end).toBe('near');
    expect(adjustHint(aim, straight(0, 10), [6]).end).toBeNull();
    expect(adjustHint({ target: 1, within: 0.05 }, straight(2, 7), [3]).end).toBe('beyond');
  });

  it('keeps the direction where the reading is past anything the curve shows', () => {
    expect(adjustHint(aim, straight(0, 10), [12])).toMatchObject({ direction: 'anticlockwise' });
    expect(adjustHint(aim, straight(0, 10), [-3])).toMatchObject({ direction: 'clockwise' });
  });

  it('is silent about turning on the target and without a curve', () => {
    expect(adjustHint(aim, straight(0, 10), [7.7])).toMatchObject({ isThere: true, direction: null });
    const bare = adjustHint(aim, null, [7.2]);
    expect(bare).toMatchObject({ isThere: false, direction: null, share: null, perTwentieth: null });
  });
});
