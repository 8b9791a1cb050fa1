import { describe, expect, it } from 'vitest';
import type { JointReadings } from '../../../shared-core/bands/predict-build.ts';
import { seeTogether } from '../../../shared-core/bands/see-together.ts';
import { normalDraw, seededRandom } from '../../../shared-core/numerics/random.ts';
import type { ConditionPrediction } from '../../../shared-core/prediction/prediction.ts';
import { bareReading } from '../../helpers/bare-reading.ts';

/** Readings of 100 V: one in a first condition, two in a second; all follow the mains by 4 V and scatter by 1 V. */
const ids = ['b1-unloaded', 'b1', 'screen'];
const sigma = Math.hypot(4, 1);

function condition(name: string, own: readonly string[]): ConditionPrediction {
  return {
    ...{ condition: name, ratings: [], netVolts: {}, covariance: [] },
    readings: own.map((id) => ({ ...bareReading(id, 100, sigma), stopAbove: 120 })),
    solve: { converged: true, iterations: 1, residualAmps: 0 },
  };
}

const conditions = [condition('rectifier', ids.slice(0, 1)), condition('running', ids.slice(1))];

const random = seededRandom(7);
const mains = Array.from({ length: 4000 }, () => 4 * normalDraw(random));
const joint: JointReadings = {
  ids,
  centre: [100, 100, 100],
  covariance: ids.map((_, row) => ids.map((__, column) => (row === column ? 17 : 16))),
  lookSigma: [0.3, 0.3, 0.3],
  healthy: ids.map(() => Float64Array.from(mains, (value) => 100 + value + 1.044 * normalDraw(random))),
};

const good = (id: string, value: number) => ({ id, value, isGood: true });
const labels = { 'b1-unloaded': 'B1 alone', b1: 'B1', screen: 'Screen' };

describe('seeTogether', () => {
  it('shifts and narrows what is expected in a later condition, and leaves its own', () => {
    const { fromOthers } = seeTogether(conditions, joint, [good('b1-unloaded', 104)], labels);
    // Gain 16 / (17 + 0.09), from the closed form of conditioning.
    expect(fromOthers['b1']?.nominal).toBeCloseTo(100 + 4 * (16 / 17.09), 9);
    const width = (fromOthers['b1']?.high ?? 0) - (fromOthers['b1']?.low ?? 0);
    expect(width / (2 * 2.326 * sigma)).toBeCloseTo(Math.sqrt(1 - (16 * 16) / 17.09 / 17), 9);
    expect(fromOthers['b1-unloaded']).toBeUndefined();
  });

  it('is silent about a reading that others neither narrow nor move', () => {
    const covariance = [
      [17, 0.1, 16],
      [0.1, 17, 0.1],
      [16, 0.1, 17],
    ];
    const loose = { ...joint, covariance };
    const { fromOthers } = seeTogether(conditions, loose, [good('b1-unloaded', 100)], labels);
    expect(Object.keys(fromOthers)).toEqual(['screen']);
  });

  it('says in one sentence what the last reading moved in all conditions', () => {
    const { moved } = seeTogether(conditions, joint, [good('b1-unloaded', 104)], labels);
    expect(moved).toEqual(['B1 alone reads 4 % high: B1 and Screen expected higher.']);
    const later = seeTogether(conditions, joint, [good('b1-unloaded', 104), good('b1', 104)], labels);
    expect(later.moved).toEqual([]);
  });

  it('lets a reading that is not good say nothing about others', () => {
    const bad = { id: 'b1-unloaded', value: 110, isGood: false };
    const { fromOthers, moved, judgement } = seeTogether(conditions, joint, [bad], labels);
    expect(fromOthers).toEqual({});
    expect(moved).toEqual([]);
    expect(judgement?.readings).toBe(1);
  });

  it('judges the whole build, and says that each is inside its band only where it is so', () => {
    const apart = [good('b1-unloaded', 105), good('b1', 105), good('screen', 99)];
    const inside = seeTogether(conditions, joint, apart, labels).judgement;
    expect(inside).toMatchObject({ healthy: false, standsOut: 'screen', side: 'lower' });
    expect(inside?.words).toMatch(
      /^Each of these 3 readings is inside its band, but together they are unlikely/,
    );
    const [one, two, three] = apart;
    const outside = seeTogether(conditions, joint, [one!, two!, { ...three!, isGood: false }], labels);
    expect(outside.judgement?.words).toMatch(/^Taken together, these 3 readings are unlikely/);
    const fine = [good('b1-unloaded', 103), good('b1', 103.5)];
    expect(seeTogether(conditions, joint, fine, labels).judgement?.words).toBe(
      'Taken together, these 2 readings are as a healthy amplifier’s.',
    );
  });

  it('is silent before the first reading', () => {
    expect(seeTogether(conditions, joint, [], labels)).toEqual({
      judgement: null,
      fromOthers: {},
      moved: [],
    });
  });
});
