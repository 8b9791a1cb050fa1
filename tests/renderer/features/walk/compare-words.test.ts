import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { matchedWords, pairWords } from '../../../../renderer/features/walk/compare-words.ts';
import { chooseKit } from '../../../../shared-core/kit/choose-kit.ts';
import { readKit } from '../../../../shared-core/kit/read-kit.ts';
import type { ChosenKit } from '../../../../shared-core/kit/chosen-kit.ts';

function kitOf(name: string): ChosenKit {
  const read = readKit(readFileSync(`kits/${name}/kit.yaml`, 'utf8'), 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value, {});
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  return chosen.value;
}

const curlew = kitOf('curlew');
const values: Readonly<Record<string, number>> = {
  ...{ 'v2-sense': 0.4, 'v3-sense': 0.39, 'v4-sense': 0.412, 'v5-sense': 0.38 },
  ...{ 'anode-running-left': 118, 'anode-running-right': 121 },
};
const valueOf = (id: string): number | null => values[id] ?? null;

describe('pairWords', () => {
  it('names both with their figures, which is higher and by how much', () => {
    expect(pairWords(curlew, ['v2-sense', 'v4-sense'], valueOf)).toBe(
      'Sense resistor of V2 0.4\u202fV, Sense resistor of V4 0.412\u202fV: the second is higher by 0.012\u202fV.',
    );
  });

  it('compares channels by their own titles', () => {
    const told = pairWords(kitOf('wren'), ['anode-running-left', 'anode-running-right'], valueOf);
    expect(told).toMatch(/left.* 118.V, .*right.* 121.V: the second is higher by 3.V\.$/);
  });

  it('waits for both, and says when they are the same', () => {
    expect(pairWords(curlew, ['v2-sense', 'no-such'], valueOf)).toBeNull();
    expect(pairWords(curlew, ['v2-sense', 'v4-sense'], () => 0.4)).toMatch(/: the same\.$/);
  });
});

describe('matchedWords', () => {
  it('shows the whole set and the two that are farthest apart', () => {
    // 0.38 and 0.412: 0.032 of a mean of 0.396 is 8.1 %.
    expect(matchedWords(curlew, ['v2-sense', 'v4-sense'], valueOf)).toBe(
      'Matched set V2, V3, V4, V5: V2 0.4\u202fV, V3 0.39\u202fV, V4 0.412\u202fV, V5 0.38\u202fV. Farthest apart: V5 and V4, 8.1\u202f%.',
    );
  });

  it('is silent where the kit names no set, and while fewer than two are read', () => {
    expect(matchedWords(curlew, ['ht-half-1', 'ht-half-2'], valueOf)).toBeNull();
    expect(matchedWords(curlew, ['v2-sense', 'v4-sense'], () => null)).toBeNull();
  });
});
