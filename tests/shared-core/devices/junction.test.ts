import { describe, expect, it } from 'vitest';
import { limitJunction, tailFactor, thermalVolts } from '../../../shared-core/devices/junction.ts';

describe('a step down an exponential tail', () => {
  /** Newton's step of exp(x) = part at x = 0. */
  const newton = (part: number): number => part - 1;

  it.each([0.1, 0.02, 0.003])('reaches a current of %d of the present one at once', (part) => {
    expect(tailFactor(newton(part)) * newton(part)).toBeCloseTo(Math.log(part), 12);
  });

  it('goes six factors e at most, where the rest of the circuit asks for all but nothing', () => {
    expect(tailFactor(newton(1e-9)) * newton(1e-9)).toBeCloseTo(-6, 12);
  });

  it('stays as it is near its goal and where it is no tail', () => {
    for (const change of [-0.5, 0, 0.3, -1.5]) expect(tailFactor(change)).toBe(1);
  });

  it('does not go past zero volts, where a junction carries nothing', () => {
    expect(limitJunction(0.1, 0.1 - 0.999 * thermalVolts, thermalVolts, 1e-12, 0.05)).toBe(0);
  });
});
