import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { setAdjusters } from '../../../shared-core/faults/fit-adjust.ts';
import { chooseKit } from '../../../shared-core/kit/choose-kit.ts';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { readKit } from '../../../shared-core/kit/read-kit.ts';
import { adjustHint } from '../../../shared-core/prediction/adjust-hint.ts';
import { adjusterCurve } from '../../../shared-core/prediction/adjuster-curve.ts';
import type { AdjusterCurve } from '../../../shared-core/prediction/adjuster-curve.ts';
import { asInKit, nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';

let curlew: ChosenKit;
let set: AdjusterCurve;

beforeAll(() => {
  const read = readKit(readFileSync('kits/curlew/kit.yaml', 'utf8'), 'kit.yaml');
  if (!read.ok) throw new Error(read.problems[0].message);
  const chosen = chooseKit(read.value, {});
  if (!chosen.ok) throw new Error(chosen.problems[0].message);
  curlew = chosen.value;
  const curve = adjusterCurve(curlew, 'v2-sense', nominalBench(curlew), asInKit, () => true);
  if (curve === null) throw new Error('no curve');
  set = curve;
});

describe('adjusterCurve', () => {
  it('rises all the way from most negative bias to least, from below 0.25 V to above the target', () => {
    // The kit file asks for below 0.25 V at most negative, and for 0.4 V as the setting.
    expect(set.points).toHaveLength(21);
    const values = set.points.map(({ value }) => value);
    expect(values[0]).toBeLessThan(0.25);
    expect(values.at(-1)).toBeGreaterThan(0.4);
    expect(values.every((value, index) => index === 0 || value > (values[index - 1] ?? 0))).toBe(true);
  });

  it('leads to where the engine itself ends up when it sets all adjusters', () => {
    const bench = nominalBench(curlew);
    const own = setAdjusters(curlew, bench, asInKit).chosen.conditions.find(({ id }) => id === 'running');
    const hint = adjustHint({ target: 0.4, within: 0.001 }, set, [set.points[0]?.value ?? 0]);
    // Ripple correction left out: 2 % of the volts at most, and 2 % of 0.4 V are 0.5 % of the travel here; the engine's
    // own search stops within a tenth of the kit's 5 %.
    expect(hint.direction).toBe('clockwise');
    expect(hint.share).not.toBeNull();
    expect(Math.abs((hint.share ?? 0) - (own?.controls['P2'] ?? 0))).toBeLessThan(0.02);
  });

  it('has nothing to say of a reading that no step adjusts by', () => {
    expect(adjusterCurve(curlew, 'b1-running', nominalBench(curlew), asInKit, () => true)).toBeNull();
    expect(adjusterCurve(curlew, 'no-such', nominalBench(curlew), asInKit, () => true)).toBeNull();
  });
});
