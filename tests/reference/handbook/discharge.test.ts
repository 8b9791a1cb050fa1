/**
 * Discharge of one reservoir through its bleeder: V(t) = V0·e^(−t/RC), t = RC·ln(V0/V).
 *
 * Times to 60 V (IEC 61010-1 and IEC 62368-1 ES1), 50 V (NEC 460.6) and 30 V, and the largest bleeder that is
 * below 50 V in a minute, worked out by hand to three figures; seconds, joules, watts, ohms.
 */
import { describe, expect, it } from 'vitest';
import { drainLinear } from '../../../shared-core/circuit/drain-linear.ts';
import { drainNonlinear } from '../../../shared-core/circuit/drain-nonlinear.ts';
import { c, circuit, r } from '../../helpers/circuit.ts';

const bleeder = (farads: number, ohms: number) =>
  circuit(c('C1', 'b', 'gnd', farads), r('R1', 'b', 'gnd', ohms));

/** Half a unit of the third figure of a time. */
const rounding = 0.051;

describe('discharge by the closed form', () => {
  it.each([
    { farads: 100e-6, ohms: 220e3, volts: 450, seconds: [44.3, 48.3, 59.6], joules: 10.13 },
    { farads: 47e-6, ohms: 220e3, volts: 400, seconds: [19.6, 21.5, 26.8], joules: 3.76 },
    { farads: 200e-6, ohms: 100e3, volts: 500, seconds: [42.4, 46.1, 56.3], joules: 25.0 },
    { farads: 330e-6, ohms: 47e3, volts: 420, seconds: [30.2, 33.0, 40.9], joules: 29.1 },
  ])('$farads F with $ohms Ω from $volts V', ({ farads, ohms, volts, seconds, joules }) => {
    [60, 50, 30].forEach((safeVolts, index) => {
      const of = bleeder(farads, ohms);
      const [slow] = drainLinear(of, { C1: volts }, { safeVolts }).stores;
      expect(Math.abs(slow!.seconds! - seconds[index]!)).toBeLessThan(rounding);
      expect(Math.abs(slow!.joules / joules - 1)).toBeLessThan(2e-3);
      const [fast] = drainNonlinear(of, { C1: volts }, { safeVolts, untilSeconds: 200 }).stores;
      // The stepping solver states 0.1 %.
      expect(Math.abs(fast!.seconds! / slow!.seconds! - 1)).toBeLessThan(1e-3);
    });
  });

  it.each([
    { farads: 100e-6, volts: 450, ohms: 273e3 },
    { farads: 47e-6, volts: 400, ohms: 614e3 },
    { farads: 330e-6, volts: 420, ohms: 85e3 },
  ])('takes a minute to 50 V with $ohms Ω across $farads F at $volts V', ({ farads, volts, ohms }) => {
    const [store] = drainLinear(bleeder(farads, ohms), { C1: volts }, { safeVolts: 50 }).stores;
    // The resistance is rounded to three figures, the last of them 85.4 kΩ to two.
    expect(Math.abs(store!.seconds! / 60 - 1)).toBeLessThan(6e-3);
  });
});
