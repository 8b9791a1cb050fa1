import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deviation } from '../../../shared-core/drawing/deviation.ts';
import { deviationScene } from '../../../shared-core/drawing/deviation-scene.ts';
import type { DeviationPoint } from '../../../shared-core/drawing/deviation-scene.ts';
import { smallBandScene } from '../../../shared-core/drawing/small-band-scene.ts';
import type { Scene } from '../../../shared-core/drawing/scene.ts';
import { verdictMark } from '../../../shared-core/drawing/verdict-mark.ts';

const verdicts = [
  'as expected',
  'borderline',
  'out of band',
  'stop',
  'still warming',
  'not predicted',
] as const;

/** Every place of a scene lies on its sheet, and every path can be drawn by the PDF library. */
function expectOnSheet(scene: Scene): void {
  const paths = scene.items.flatMap((item) => (item.kind === 'path' ? [item.d] : []));
  for (const path of paths) expect(path).toMatch(/^[MLHVCSAZ0-9. -]+$/);
  const ends = paths.flatMap((path) =>
    [...path.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)] as const),
  );
  const texts = scene.items.flatMap((item) => (item.kind === 'text' ? [[item.x, item.y] as const] : []));
  // Lengths are rounded to a hundredth.
  const isOnSheet = ([x, y]: readonly [number, number]): boolean =>
    x >= -0.01 && x <= scene.width + 0.01 && y >= -0.01 && y <= scene.height + 0.01;
  expect([...ends, ...texts].filter((place) => !isOnSheet(place))).toEqual([]);
}

describe('deviation', () => {
  it('is 0 at nominal and ±1 at the ends of a lopsided band', () => {
    const band = { low: 90, nominal: 100, high: 130 };
    expect([90, 100, 130, 85, 145].map((value) => deviation(value, band))).toEqual([-1, 0, 1, -1.5, 1.5]);
  });

  it('is nothing without two ends and a nominal between them', () => {
    expect(deviation(1, { low: null, nominal: 1, high: 2 })).toBeNull();
    expect(deviation(1, { low: 0, nominal: null, high: 2 })).toBeNull();
    expect(deviation(2, { low: 1, nominal: 1, high: 1 })).toBeNull();
  });
});

describe('deviationScene', () => {
  it('keeps every reading on the sheet, however far out', () => {
    const point = fc.record({
      number: fc.integer({ min: 1, max: 200 }),
      group: fc.constantFrom('A', 'B'),
      deviation: fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      first: fc.option(fc.double({ min: -1e6, max: 1e6, noNaN: true })),
      verdict: fc.constantFrom(...verdicts),
    });
    fc.assert(
      fc.property(fc.array(point, { maxLength: 80 }), (points) => expectOnSheet(deviationScene(points))),
      { numRuns: 60 },
    );
  });

  it('writes the figure beside a reading that lies outside the frame', () => {
    const point: DeviationPoint = { number: 3, group: 'A', deviation: -7.25, first: null, verdict: 'stop' };
    const texts = deviationScene([point]).items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
    expect(texts).toContain('−7.3');
  });
});

describe('smallBandScene', () => {
  const none = { lowest: null, highest: null, stopAbove: null, stopBelow: null };

  it('puts the pointer inside the block exactly when the reading is inside the band', () => {
    const figures = { ...none, unit: 'V' as const, low: 90, nominal: 100, high: 130 };
    const pointerAt = (value: number): number => {
      const path = smallBandScene(figures, value)?.items.findLast((item) => item.kind === 'path');
      return path?.kind === 'path' ? Number(/L([\d.]+) [\d.]+Z/.exec(path.d)?.[1]) : Number.NaN;
    };
    const block = smallBandScene(figures, 100)?.items[2];
    const [, left = '', right = ''] =
      (block?.kind === 'path' && /^M([\d.]+) .*H([\d.]+)V/.exec(block.d)) || [];
    expect(pointerAt(91)).toBeGreaterThan(Number(left));
    expect(pointerAt(129)).toBeLessThan(Number(right));
    expect(pointerAt(85)).toBeLessThan(Number(left));
    expect(pointerAt(140)).toBeGreaterThan(Number(right));
  });

  it('draws limits on one side, and nothing where there is no band', () => {
    const limit = smallBandScene({ ...none, unit: 'Ω', low: null, nominal: null, high: 0.3 }, 0.1);
    if (limit === null) throw new Error('no drawing');
    expectOnSheet(limit);
    expect(smallBandScene({ ...none, unit: 'Ω', low: null, nominal: null, high: null }, 1)).toBeNull();
  });
});

describe('verdictMark', () => {
  it('has a shape of its own for every verdict, and red for stop alone', () => {
    const shapes = verdicts.map((verdict) =>
      JSON.stringify(verdictMark(verdict).items.map((item) => ({ ...item, ink: null, fill: null }))),
    );
    expect(new Set(shapes).size).toBe(verdicts.length);
    const reds = verdicts.filter((verdict) => JSON.stringify(verdictMark(verdict)).includes('danger'));
    expect(reds).toEqual(['stop']);
    for (const verdict of verdicts) expectOnSheet(verdictMark(verdict));
  });
});
