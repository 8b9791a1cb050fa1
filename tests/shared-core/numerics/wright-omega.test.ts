import fc from 'fast-check';
import { expect, test } from 'vitest';
import { wrightOmega } from '../../../shared-core/numerics/wright-omega.ts';

test('is the omega constant at 0 and 1 at 1', () => {
  // Omega constant, OEIS A030178.
  expect(wrightOmega(0)).toBeCloseTo(0.5671432904097838, 15);
  expect(wrightOmega(1)).toBeCloseTo(1, 15);
});

test('undoes x + ln x from the far tail to large currents', () => {
  fc.assert(
    fc.property(fc.double({ min: -30, max: 14, noNaN: true }), (log) => {
      const omega = Math.exp(log);
      const z = omega + log;
      // An error of z by one unit in the last place is an error of omega by ω/(1+ω) times it.
      expect(Math.abs(wrightOmega(z) / omega - 1)).toBeLessThan(1e-14 * (1 + Math.abs(z)));
    }),
  );
});
