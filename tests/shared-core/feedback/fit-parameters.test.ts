import { describe, expect, test } from 'vitest';
import { fitParameters, type FleetParameter } from '../../../shared-core/feedback/fit-parameters.ts';
import { familyLimit, normalPoint } from '../../../shared-core/feedback/normal-point.ts';
import { normalDraw, seededRandom } from '../../../shared-core/numerics/random.ts';

function linear(quantity: string, slope: readonly number[]): FleetParameter {
  return { quantity, what: quantity, change: (size) => slope.map((each) => each * size) };
}

function diagonal(values: readonly number[]): readonly (readonly number[])[] {
  return values.map((value, row) => values.map((_, column) => (row === column ? value : 0)));
}

describe('the parameters that explain a fleet', () => {
  test('get the size of generalised least squares, computed by hand', () => {
    // C = [[2, 1], [1, 2]], W = [[2, −1], [−1, 2]] / 3, d = (1, 0), r = (100, 20):
    // dᵀWr = (200 − 20) / 3 = 60, dᵀWd = 2/3, θ = 90, its deviation √1.5.
    const fit = fitParameters(
      [100, 20],
      [
        [2, 1],
        [1, 2],
      ],
      [linear('R1', [1, 0])],
    );
    const own = fit?.found[0]?.group[0];
    expect(own?.size).toBeCloseTo(90, 9);
    expect(own?.uncertainty).toBeCloseTo(1.96 * Math.sqrt(1.5), 9);
    expect(own?.sigmas).toBeCloseTo(90 / Math.sqrt(1.5), 9);
    // rᵀWr = (2·10000 − 2·2000 + 2·400) / 3 = 5600; it falls by θ² dᵀWd = 5400.
    expect(fit?.before).toBeCloseTo(5600, 6);
    expect(fit?.after).toBeCloseTo(200, 6);
  });

  test('are found beside one another, each with its own size', () => {
    const [one, two] = [
      [1, 1, 0, 0],
      [0, 1, 1, 0],
    ];
    const means = one!.map((each, row) => 0.08 * 100 * each - 0.05 * 100 * two![row]!);
    const parameters = [
      linear(
        'R1',
        one!.map((each) => 100 * each),
      ),
      linear(
        'R2',
        two!.map((each) => 100 * each),
      ),
      linear('R3', [0, 0, 0, 100]),
    ];
    const fit = fitParameters(means, diagonal([0.01, 0.01, 0.01, 0.01]), parameters);
    const sizes = Object.fromEntries(fit!.found.map(({ group }) => [group[0]!.quantity, group[0]!.size]));
    expect(Object.keys(sizes).toSorted()).toEqual(['R1', 'R2']);
    expect(sizes['R1']).toBeCloseTo(0.08, 9);
    expect(sizes['R2']).toBeCloseTo(-0.05, 9);
    expect(fit!.leftOver.every((each) => Math.abs(each) < 1e-6)).toBe(true);
  });

  test.each([
    [0.91, 2],
    [0.89, 1],
  ])('whose directions have the cosine %f make a group of %i', (cosine, size) => {
    const other = [cosine, Math.sqrt(1 - cosine ** 2)];
    const fit = fitParameters([50, 0], diagonal([1, 1]), [linear('R1', [1, 0]), linear('R2', other)]);
    expect(fit?.found[0]?.group.map(({ quantity }) => quantity)).toHaveLength(size);
    expect(fit?.found[0]?.group[0]?.quantity).toBe('R1');
  });

  test('are computed anew where a reading is no straight line', () => {
    // Reading = 100 d − 300 d²; a change of 0.1 moves it by 7, which a straight line would call 0.07.
    const bent: FleetParameter = { quantity: 'R1', what: 'R1', change: (d) => [100 * d - 300 * d * d] };
    const fit = fitParameters([7], [[0.001]], [bent]);
    // Three rounds of secants: each is closer by a factor of about two.
    expect(fit?.found[0]?.group[0]?.size).toBeGreaterThan(0.09);
  });

  test('are hardly ever found where there is nothing but chance', () => {
    const random = seededRandom(11);
    const parameters = Array.from({ length: 12 }, (_, index) =>
      linear(
        `R${index}`,
        Array.from({ length: 8 }, () => normalDraw(random)),
      ),
    );
    let found = 0;
    for (let trial = 0; trial < 1000; trial += 1) {
      const means = Array.from({ length: 8 }, () => normalDraw(random));
      found +=
        (fitParameters(means, diagonal(Array.from({ length: 8 }, () => 1)), parameters)?.found.length ?? 1) >
        0
          ? 1
          : 0;
    }
    // 1 % expected at most; 20 of 1000 is three standard deviations more.
    expect(found).toBeLessThanOrEqual(20);
  });

  test('are not looked for under a covariance that is none', () => {
    expect(fitParameters([1], [[-1]], [])).toBeNull();
  });
});

describe('the family-wise limit', () => {
  test('is the two-sided 1 % point of one look, and of a hundred looks its hundredth', () => {
    // Tables of the normal distribution: 2.5758 at 0.005, 3.8906 at 0.00005; the formula is good to 4.5e-4.
    expect(Math.abs(familyLimit(1) - 2.5758)).toBeLessThan(4.5e-4);
    expect(Math.abs(familyLimit(100) - 3.8906)).toBeLessThan(4.5e-4);
    expect(Math.abs(normalPoint(0.025) - 1.96)).toBeLessThan(5e-4);
  });
});
