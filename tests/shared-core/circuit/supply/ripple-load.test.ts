import { expect, test } from 'vitest';
import { fitRippleLoad } from '../../../../shared-core/circuit/supply/ripple-load.ts';

/** Admittance of a series branch of resistance, inductance and capacitance, in siemens (S). */
function series(hertz: number, ohms: number, henries: number, farads: number): readonly [number, number] {
  const omega = 2 * Math.PI * hertz;
  const reactance = omega * henries - (farads > 0 ? 1 / (omega * farads) : 0);
  const square = ohms * ohms + reactance * reactance;
  return [ohms / square, -reactance / square];
}

/** The same with a reservoir and a bleeder across it. */
function reservoirWith(branch: (hertz: number) => readonly [number, number]) {
  return (hertz: number): readonly [number, number] => {
    const [real, imaginary] = branch(hertz);
    return [real + 1e-5, imaginary + 2 * Math.PI * hertz * 47e-6];
  };
}

test('meets a reservoir with one RC stage exactly', () => {
  for (const [ohms, farads] of [
    [1000, 47e-6],
    [22, 22e-6],
    [0.5, 4700e-6],
  ] as const) {
    const fit = fitRippleLoad(
      reservoirWith((hertz) => series(hertz, ohms, 0, farads)),
      100,
    );
    // Differences of nearly equal susceptances keep about nine digits.
    expect(Math.abs(fit.farads / 47e-6 - 1)).toBeLessThan(1e-6);
    expect(Math.abs(fit.branch!.seconds / (ohms * farads) - 1)).toBeLessThan(1e-3);
    // At first the filter capacitor is a short: the conductance is the resistor's; in the end it takes nothing.
    expect(Math.abs((fit.siemens - 1e-5) * ohms - 1)).toBeLessThan(1e-3);
    expect(Math.abs(-fit.branch!.siemens * ohms - 1)).toBeLessThan(1e-3);
  }
});

test('meets a reservoir with one choke exactly', () => {
  const fit = fitRippleLoad(
    reservoirWith((hertz) => series(hertz, 300, 0.5, 0)),
    100,
  );
  expect(fit.farads).toBeCloseTo(47e-6, 10);
  expect(fit.siemens).toBeCloseTo(1e-5, 8);
  expect(fit.branch!.siemens * 300).toBeCloseTo(1, 5);
  expect(fit.branch!.seconds).toBeCloseTo(0.5 / 300, 7);
});

test('is a plain capacitance and conductance where the frequency changes nothing', () => {
  const fit = fitRippleLoad(
    reservoirWith(() => [2e-4, 0]),
    100,
  );
  expect(fit.branch).toBeNull();
  expect(fit.farads).toBeCloseTo(47e-6, 12);
  expect(fit.siemens).toBeCloseTo(2.1e-4, 12);
});
