import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  clampScreen,
  clampScreenSlope,
  gate,
  gateSlope,
  limitAnodeVolts,
  limitScreenVolts,
  logistic,
  positiveRamp,
  positiveRampSlope,
  softplus,
} from '../../../shared-core/devices/valve-laws.ts';

describe('softplus', () => {
  it('is ln 2 at zero and its argument far above', () => {
    expect(softplus(0)).toBeCloseTo(Math.LN2, 15);
    expect(softplus(5000)).toBe(5000);
  });

  it('joins its linear part without a step', () => {
    expect(softplus(80 + 1e-12) - softplus(80)).toBeLessThan(1e-11);
    expect(logistic(80 + 1e-12)).toBe(logistic(80));
  });

  it('keeps tiny values instead of rounding them to zero', () => {
    // ln(1 + e) = e − e²/2 …: exp(−50) to the last bits.
    expect(softplus(-50) / Math.exp(-50)).toBeCloseTo(1, 14);
  });
});

describe('the rounded corners', () => {
  const corners = [
    { name: 'positive ramp', law: positiveRamp, slope: positiveRampSlope },
    { name: 'screen clamp', law: clampScreen, slope: clampScreenSlope },
    { name: 'gate', law: gate, slope: gateSlope },
  ];

  it.each(corners)('$name has the slope it says, also across its joins', ({ law, slope }) => {
    fc.assert(
      fc.property(fc.double({ min: -2, max: 2, noNaN: true }), (volts) => {
        const step = 1e-6;
        const quotient = (law(volts + step) - law(volts - step)) / (2 * step);
        // Second derivatives stay below 6 per volt, so the slope moves less than 1e-5 over the step.
        expect(Math.abs(quotient - slope(volts))).toBeLessThan(1e-5);
      }),
    );
  });

  it('leaves the published law alone above one volt', () => {
    expect(positiveRamp(1)).toBe(1);
    expect(positiveRamp(17.3)).toBe(17.3);
    expect(clampScreen(0.2)).toBe(0.2);
    expect(gate(1)).toBe(1);
  });

  it('lets nothing through below zero', () => {
    expect(positiveRamp(-3)).toBe(0);
    expect(gate(-3)).toBe(0);
    expect(clampScreen(-3)).toBe(0.1);
  });
});

describe('limitAnodeVolts', () => {
  it('stops a step through zero in the foot of the knee, and one from there at −2 V', () => {
    expect(limitAnodeVolts(200, -300, 40)).toBe(4);
    expect(limitAnodeVolts(20, -300, 40)).toBe(2);
    expect(limitAnodeVolts(0.9, -300, 40)).toBe(-2);
  });

  it('leaves the knee by no more than its width', () => {
    expect(limitAnodeVolts(10, 400, 50)).toBe(60);
    expect(limitAnodeVolts(-2, 400, 50)).toBe(48);
  });

  it('leaves small steps and steps above the knee alone', () => {
    expect(limitAnodeVolts(10, 30, 50)).toBe(30);
    expect(limitAnodeVolts(150, 400, 50)).toBe(400);
    expect(limitAnodeVolts(-50, -80, 50)).toBe(-80);
  });
});

describe('limitScreenVolts', () => {
  it('stops on the slope between 0 and 1 V and nowhere else', () => {
    expect(limitScreenVolts(186, -89)).toBe(0.5);
    expect(limitScreenVolts(0.5, -89)).toBe(-89);
    expect(limitScreenVolts(-89, 186)).toBe(186);
    expect(limitScreenVolts(186, 20)).toBe(20);
  });
});
