import { describe, expect, it } from 'vitest';
import { adjustRemarks, targetWords, turnWords } from '../../../../renderer/features/walk/adjust-words.ts';
import type { AdjustHint } from '../../../../shared-core/prediction/adjust-hint.ts';

const action = { kind: 'adjust', control: 'P1', reading: 'bias', target: 8, within: 0.05 } as const;
const hint: AdjustHint = {
  ...{ isThere: false, toGo: 0.8, direction: 'anticlockwise', share: 0.08, perTwentieth: 0.5 },
  ...{ isOvershot: false, lastTurn: null, end: null, endValue: 0 },
};

describe('the words of an adjust step', () => {
  it('tell the target with its limits', () => {
    expect(targetWords(action, 'V')).toBe('8\u202fV, between 7.6\u202fV and 8.4\u202fV');
    expect(targetWords({ ...action, target: -40, within: 0.02 }, 'V')).toContain('−40');
  });

  it('tell direction, volts to go and how far', () => {
    expect(turnWords(action, hint, 'V')).toBe(
      '0.8\u202fV to go: turn P1 anticlockwise, about 8\u202f% of its travel, a little at a time.',
    );
    expect(turnWords(action, { ...hint, toGo: -0.8 }, 'V')).toMatch(/^0\.8.V too much: turn P1/);
    const negative = { ...action, target: -40 };
    expect(turnWords(negative, { ...hint, toGo: 2 }, 'V')).toMatch(/^2.V too much/);
    expect(turnWords(negative, { ...hint, toGo: -2 }, 'V')).toMatch(/^2.V to go/);
    expect(turnWords(action, { ...hint, share: null }, 'V')).toContain('anticlockwise, a little at a time');
    expect(turnWords(action, { ...hint, direction: null }, 'V')).toBe('0.8\u202fV to go.');
    expect(turnWords(action, { ...hint, isThere: true }, 'V')).toBe('On target.');
  });

  it('tell sensitivity, over-shoot, a dead control and the end of the travel', () => {
    expect(adjustRemarks(action, hint, 'V').join()).toMatch(
      /twentieth of its travel moves the reading by 0\.5\u202fV/,
    );
    expect(adjustRemarks(action, { ...hint, isOvershot: true }, 'V').join()).toMatch(/past the target/);
    expect(adjustRemarks(action, { ...hint, lastTurn: 'away' }, 'V').join()).toMatch(/moved away/);
    expect(adjustRemarks(action, { ...hint, lastTurn: 'nothing' }, 'V').join()).toMatch(/hardly moved/);
    expect(adjustRemarks(action, { ...hint, end: 'beyond' }, 'V').join()).toMatch(/out of reach/);
    expect(adjustRemarks(action, { ...hint, end: 'near' }, 'V').join()).toMatch(/close to the end/);
    expect(adjustRemarks(action, { ...hint, isThere: true, isOvershot: true }, 'V')).toEqual([]);
  });
});
