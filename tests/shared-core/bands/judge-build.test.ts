import { beforeAll, describe, expect, it } from 'vitest';
import { conditionAcross } from '../../../shared-core/bands/condition-on.ts';
import { judgeBuild, openBuildScale } from '../../../shared-core/bands/judge-build.ts';
import {
  type BuildPrediction,
  type JointReadings,
  predictBuild,
} from '../../../shared-core/bands/predict-build.ts';
import { SampleBook } from '../../../shared-core/bands/sample-book.ts';
import { normalDraw, seededRandom } from '../../../shared-core/numerics/random.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

/** Two readings about 100 and 50 with sd 4 and 2 that go together by `rho`, and normal healthy builds of them. */
function twoReadings(rho: number): JointReadings {
  const random = seededRandom(5);
  const [first, second] = [new Float64Array(20_000), new Float64Array(20_000)];
  for (let build = 0; build < first.length; build += 1) {
    const [x, y] = [normalDraw(random), normalDraw(random)];
    first[build] = 100 + 4 * x;
    second[build] = 50 + 2 * (rho * x + Math.sqrt(1 - rho * rho) * y);
  }
  return {
    ids: ['b1', 'b2'],
    centre: [100, 50],
    covariance: [
      [16, 8 * rho],
      [8 * rho, 4],
    ],
    lookSigma: [0, 0],
    healthy: [first, second],
  };
}

describe('judgeBuild', () => {
  it('measures the distance of the closed form', () => {
    const judgement = judgeBuild(twoReadings(0.8), [
      { id: 'b1', value: 104 },
      { id: 'b2', value: 50 },
    ]);
    // (1, 0) under correlation 0.8: 1 / (1 − 0.64).
    expect(judgement?.distance).toBeCloseTo(Math.sqrt(1 / 0.36), 12);
  });

  it('sets the limit where two of a hundred healthy builds lie beyond', () => {
    // χ² of two degrees of freedom: −2·ln 0.02 = 7.824; 20,000 builds leave a standard error of 0.1 on it.
    const scale = openBuildScale(twoReadings(0.8), ['b1', 'b2']);
    expect(Math.abs((scale?.limit ?? 0) ** 2 - 7.824)).toBeLessThan(0.3);
    // One degree of freedom: 2.326².
    expect(Math.abs((openBuildScale(twoReadings(0.8), ['b1'])?.limit ?? 0) - 2.326)).toBeLessThan(0.06);
  });

  it('calls two readings unhealthy that are each well inside but do not go together', () => {
    const apart = [
      { id: 'b1', value: 106 },
      { id: 'b2', value: 47 },
    ];
    const judgement = judgeBuild(twoReadings(0.95), apart, { b1: 'B1', b2: 'B2' });
    expect(judgement?.healthy).toBe(false);
    expect(judgement?.words).toMatch(
      /^Taken together, these 2 readings are unlikely in a healthy amplifier: B1 is higher than the others/,
    );
    const inside = judgeBuild(twoReadings(0.95), apart, {}, true);
    expect(inside?.words).toMatch(/^Each of these 2 readings is inside its band, but together/);
    expect(judgeBuild(twoReadings(0), apart)).toMatchObject({ healthy: true, side: null });
    expect(judgeBuild(twoReadings(0), apart)?.words).toBe(
      'Taken together, these 2 readings are as a healthy amplifier’s.',
    );
  });

  it('says nothing without a reading it knows', () => {
    expect(judgeBuild(twoReadings(0), [])).toBeNull();
    expect(judgeBuild(twoReadings(0), [{ id: 'other', value: 3 }])).toBeNull();
  });
});

describe('predictBuild on Heron', { timeout: 60_000 }, () => {
  const { chosen } = chooseHeron();
  let build: BuildPrediction;
  beforeAll(() => {
    build = predictBuild(chosen, plainBench, asStated, new SampleBook(1, 4000), ['rectifier', 'running']);
  }, 60_000);

  const bandOf = (id: string) => {
    const across = conditionAcross(build.conditions, build.joint, [
      { id: 'b1-unloaded', value: 1.03 * (nominal('b1-unloaded') ?? 0) },
    ]);
    return across.flat().find(({ prediction }) => prediction.id === id);
  };
  const nominal = (id: string) =>
    build.conditions.flatMap(({ readings }) => readings).find((reading) => reading.id === id)?.nominal;
  const before = (id: string) =>
    build.conditions.flatMap(({ readings }) => readings).find((reading) => reading.id === id);

  it('lets a good reading with the rectifier alone narrow those with all valves', () => {
    const b1 = bandOf('b1-running');
    const [was, is] = [before('b1-running'), b1?.prediction];
    const width = (reading = was) => (reading?.high ?? 0) - (reading?.low ?? 0);
    expect(width(is)).toBeLessThan(0.6 * width());
    expect((is?.nominal ?? 0) / (was?.nominal ?? 1)).toBeGreaterThan(1.02);
    expect(b1?.because).toMatch(/^Because b1-unloaded reads 3 % high here, expect 28\d\u202fV\.$/);
    expect(is?.stopAbove).toBe(was?.stopAbove);
    expect(is?.stopBelow).toBe(was?.stopBelow);
  });

  it('keeps the mains of two conditions apart by its drift', () => {
    const { ids, covariance } = build.joint;
    const [one, other] = [ids.indexOf('b1-unloaded'), ids.indexOf('b1-running')];
    const at = (row: number, column: number) => covariance[row]?.[column] ?? 0;
    const correlation = at(one, other) / Math.sqrt(at(one, one) * at(other, other));
    expect(correlation).toBeGreaterThan(0.9);
    expect(correlation).toBeLessThan(0.99);
  });

  it('calls about two in a hundred of other healthy builds unhealthy', () => {
    const scale = openBuildScale(build.joint, build.joint.ids);
    const fresh = predictBuild(chosen, plainBench, asStated, new SampleBook(99, 4000), [
      'rectifier',
      'running',
    ]).joint;
    let beyond = 0;
    for (let sample = 0; sample < 4000; sample += 1) {
      const values = fresh.healthy.map((column) => column[sample] ?? 0);
      if ((scale?.distanceOf(values) ?? 0) > (scale?.limit ?? 0)) beyond += 1;
    }
    // Both the limit (4000 builds) and this count (4000) have a standard error of 0.22 %: three of both.
    expect(Math.abs(beyond / 4000 - 0.02)).toBeLessThan(0.0095);
  });

  it('calls a build unhealthy whose bands all hold but whose screen does not follow its supply', () => {
    const taken = build.joint.ids.map((id, index) => ({ id, value: build.joint.centre[index] ?? 0 }));
    expect(judgeBuild(build.joint, taken)).toMatchObject({ healthy: true, standsOut: null });
    const off = taken.map((each) => (each.id === 'v2-screen' ? { ...each, value: each.value - 12 } : each));
    const screen = before('v2-screen');
    expect(off.find(({ id }) => id === 'v2-screen')?.value).toBeGreaterThan(screen?.low ?? Infinity);
    expect(judgeBuild(build.joint, off)).toMatchObject({
      ...{ healthy: false, standsOut: 'v2-screen', side: 'lower' },
    });
  });
});
