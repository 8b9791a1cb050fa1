import { expect, test } from 'vitest';
import { gaussLegendre } from '../../../shared-core/numerics/gauss-legendre.ts';

test('integrates polynomials up to degree 2n − 1 exactly and x^2n not', () => {
  for (const count of [1, 2, 5, 12, 20]) {
    const { nodes, weights } = gaussLegendre(count);
    const moment = (degree: number) =>
      nodes.reduce((sum, node, index) => sum + weights[index]! * node ** degree, 0);
    for (let degree = 0; degree < 2 * count; degree++) {
      // Rounding of a sum of `count` terms.
      expect(Math.abs(moment(degree) - 1 / (degree + 1))).toBeLessThan(1e-14);
    }
    const next = Math.abs(moment(2 * count) - 1 / (2 * count + 1));
    // Beyond five nodes the next power's error drowns in rounding.
    expect(count > 5 || next > 1e-8).toBe(true);
  }
});

test('has the published two-point nodes', () => {
  // Abramowitz and Stegun, table 25.4: ±0.577350269189626 on [−1, 1].
  expect(gaussLegendre(2).nodes[0]).toBeCloseTo((1 - 0.577350269189626) / 2, 14);
});
