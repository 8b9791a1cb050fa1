import { describe, expect, it } from 'vitest';
import { readFuse } from '../../../../renderer/features/walk/fuse-body.tsx';
import { compareWords } from '../../../../renderer/features/walk/measured-bodies.tsx';
import { bandWords, isInsideBand, nextReading } from '../../../../renderer/features/walk/reading-words.ts';
import { largestFigure, stopWords } from '../../../../shared-core/report/stop-words.ts';
import { ratioOf } from '../../../../renderer/features/walk/signal-fields.tsx';
import { fakeBridge, heron } from '../../helpers/fake-bridge.ts';
import { goodFigure, walkTo } from '../../helpers/walk-to.ts';

const band = heron.predictions.flatMap(({ readings }) => readings).find(({ id }) => id === 'b1-unloaded');

describe('words for a reading', () => {
  it.each([
    [{ stopAbove: 12, stopBelow: null }, 'stop above 12\u202fV'],
    [{ stopAbove: 4.2, stopBelow: 2 }, 'stop above 4.2\u202fV, or below 2\u202fV'],
    [
      { stopAbove: 440, stopBelow: -37.2447 },
      'stop above 440\u202fV, or at more than 37.2\u202fV the wrong way round',
    ],
    [
      { stopAbove: -34, stopBelow: -98 },
      'stop closer to zero than −34\u202fV or further from zero than −98\u202fV',
    ],
    [{ stopAbove: null, stopBelow: null }, null],
  ])('say the stop limits of %j', (limits, words) => {
    expect(stopWords(limits, 'V')).toBe(words);
  });

  it('choose the range by the stop limit, so that the band stays hidden', () => {
    expect(largestFigure({ stopAbove: 12, stopBelow: -1 }, band ?? null)).toBe(12);
    expect(largestFigure({ stopAbove: null, stopBelow: null }, null)).toBeNull();
  });

  it('say what was expected where there is no band to draw', () => {
    if (band === undefined) throw new Error('no such reading');
    expect(bandWords({ ...band, predicted: 'overload' })).toBe('OL is expected.');
    expect(bandWords({ ...band, low: null, high: 0.3 })).toContain('Below 300');
    expect(bandWords({ ...band, predicted: 'none', why: null })).toBe('Nothing is predicted here.');
  });

  it('tell inside from outside at the very edge', () => {
    expect(isInsideBand({ low: 1, high: 2 }, 2)).toBe(true);
    expect(isInsideBand({ low: 1, high: 2 }, 2.0001)).toBe(false);
    expect(isInsideBand({ low: null, high: 2 }, -50)).toBe(true);
  });

  it('say how far two readings are apart, and what to do', () => {
    expect(compareWords(0.02, 0.03)).toMatch(/agree within 2\s%/u);
    expect(compareWords(0.04, 0.03)).toMatch(/differ by 4\s%; 3\s% is allowed.*accept it with a reason/u);
    expect(compareWords(null, 0.03)).toBe('Take both readings first.');
  });
});

describe('what is typed beside readings', () => {
  it.each([
    ['T 315 mA L 250 V', { speed: 'T', amps: 0.315 }],
    ['t315mA', { speed: 'T', amps: 0.315 }],
    ['F 1A', { speed: 'F', amps: 1 }],
    ['315 mA', null],
    ['T', null],
  ])('reads a fuse stamped %j', (text, fuse) => {
    expect(readFuse(text)).toEqual(fuse);
  });

  // 2.35 V out for 50 mV in is 47.
  it('divides output by input', () => {
    expect(ratioOf('50 mV', '2.35')).toBe('47');
    expect(ratioOf('0', '2')).toBe('');
    expect(ratioOf('', '2')).toBe('');
  });
});

describe('a soak', () => {
  it('asks again for a reading that was good before its time ran', () => {
    const bridge = fakeBridge();
    walkTo(bridge, 'soak-1');
    bridge.do({ kind: 'step-started', step: 'soak-1', by: 'hand' });
    bridge.pass(600);
    const next = () => {
      const { build, facts } = bridge.view();
      const soak = facts.steps.find(({ id }) => id === 'soak-1');
      return [nextReading(['v2-cathode'], build.safety), nextReading(['v2-cathode'], build.safety, soak)];
    };
    expect(next()).toEqual([null, 'v2-cathode']);
    const typed = goodFigure(bridge, 'v2-cathode');
    bridge.do({ kind: 'enter-reading', reading: 'v2-cathode', typed, corrects: null, by: 'hand' });
    expect(next()).toEqual([null, null]);
  });
});
