import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  emptyCurve,
  type RectifierLaw,
  reducePhase,
} from '../../../../shared-core/circuit/supply/rectifier-law.ts';
import { findPeriodicState } from '../../../../shared-core/circuit/supply/shooting.ts';
import type { SupplyWaveform } from '../../../../shared-core/circuit/supply/waveform.ts';

const hertz = 50;
const omega = 2 * Math.PI * hertz;
const loadOhms = 1000;

/** The idealised circuit of O. H. Schade, Proc. IRE 31 (1943) 341–361: no drop, source resistance, resistive load. */
function schade(waves: 1 | 2, omegaCR: number, percent: number): SupplyWaveform {
  const phase = reducePhase({
    emfVolts: 100,
    ohms: (percent / 100) * loadOhms,
    law: { kind: 'ideal' },
    junctions: 1,
    isOpposite: false,
  });
  const found = findPeriodicState({
    phases: [phase, waves === 2 ? phase : emptyCurve()],
    hertz,
    farads: omegaCR / omega / loadOhms,
    load: { kind: 'line', amps: 0, siemens: 1 / loadOhms, volts: 0 },
  });
  if (!found.ok) throw new Error(found.reason);
  return found.waveform;
}

const percents = [0.1, 0.5, 1, 2, 5, 10, 20, 30, 50, 100];
/** Mean output in percent of the peak EMF; the exact solution of Schade's circuit, rounded to 0.1. */
const table: readonly (readonly [1 | 2, number, readonly number[]])[] = [
  [2, 1, [67.8, 67.5, 67.2, 66.5, 64.6, 61.6, 56.2, 51.7, 44.4, 32.8]],
  [2, 10, [89.7, 89.3, 88.6, 86.9, 81.7, 74.5, 64.3, 57.1, 47.2, 33.6]],
  [2, 40, [96.6, 95.2, 93.3, 90.1, 83.1, 75.1, 64.5, 57.2, 47.3, 33.6]],
  [1, 40, [93.2, 91.5, 89.0, 84.5, 74.8, 64.4, 51.6, 43.6, 33.6, 21.7]],
  [1, 100, [96.6, 93.4, 90.1, 85.2, 75.1, 64.5, 51.7, 43.6, 33.6, 21.7]],
];

describe('Schade', () => {
  test.each(table)('%i-phase supply at ωCR %i stays within 0.5 %% of the curves', (waves, omegaCR, row) => {
    row.forEach((expected, index) => {
      const { meanVolts } = schade(waves, omegaCR, percents[index]!);
      expect(Math.abs(meanVolts / expected - 1), `Rs/R ${percents[index]} %`).toBeLessThan(0.005);
    });
  });

  test('approaches the closed form as the reservoir grows', () => {
    // V = sin φ, (k/π)(cos φ − V(π/2 − φ)) = V·Rs/R; k = 2 full wave, 1 half wave.
    for (const [waves, percent] of [
      [2, 1],
      [2, 10],
      [2, 50],
      [1, 10],
    ] as const) {
      let [low, high] = [0, 1];
      for (let round = 0; round < 60; round++) {
        const volts = (low + high) / 2;
        const phi = Math.asin(volts);
        const fed = (waves / Math.PI) * (Math.cos(phi) - volts * (Math.PI / 2 - phi));
        if (fed > (volts * percent) / 100) low = volts;
        else high = volts;
      }
      const error = (omegaCR: number) =>
        Math.abs(schade(waves, omegaCR, percent).meanVolts / (100 * low) - 1);
      expect(error(3000)).toBeLessThan(2e-6);
      // The remaining error goes with the ripple squared.
      expect(error(300) / error(3000)).toBeGreaterThan(50);
    }
  });

  test('has the published ripple and current ratios', () => {
    // Full wave, percent of the mean; rounded to two figures.
    for (const [omegaCR, percent, ripple] of [
      [10, 1, 7.1],
      [10, 10, 5.8],
      [100, 1, 0.75],
      [100, 10, 0.59],
    ] as const) {
      const { rippleVoltsRms, meanVolts } = schade(2, omegaCR, percent);
      expect(Math.abs((100 * rippleVoltsRms) / meanVolts / ripple - 1)).toBeLessThan(0.01);
    }
    // Per anode at ωCR 100: Rs/R %, peak over mean, rms over mean; rounded to two or three figures.
    for (const [percent, peak, rms] of [
      [1, 13.3, 3.26],
      [2, 10.7, 2.92],
      [5, 8.1, 2.54],
      [10, 6.6, 2.29],
      [20, 5.5, 2.09],
      [30, 5.0, 1.99],
    ] as const) {
      const anode = schade(2, 100, percent).phases[0];
      expect(Math.abs(anode.peakAmps / anode.meanAmps / peak - 1)).toBeLessThan(0.01);
      expect(Math.abs(anode.rmsAmps / anode.meanAmps / rms - 1)).toBeLessThan(0.005);
    }
  });
});

const valve: RectifierLaw = { kind: 'valve', perveance: 1.7085e-3 };
const diode: RectifierLaw = { kind: 'semiconductor', saturationAmps: 1e-9, emission: 1.8, bulkOhms: 0.04 };

test.each([valve, diode])('balances charge and power over the cycle with a $kind rectifier', (law) => {
  const first = reducePhase({ emfVolts: 360, ohms: 92, law, junctions: 1, isOpposite: false });
  const second = reducePhase({ emfVolts: 350, ohms: 98, law, junctions: 1, isOpposite: true });
  const found = findPeriodicState({
    phases: [first, second],
    hertz,
    farads: 47e-6,
    load: { kind: 'mean', amps: 0.1, siemens: 1e-3 },
  });
  if (!found.ok) throw new Error(found.reason);
  const { phases, meanVolts, loadAmps, minimumVolts, maximumVolts, rippleVolts } = found.waveform;
  expect(Math.abs(loadAmps - 0.1)).toBeLessThan(1e-9);
  // Charge of the cycle: what the anodes bring is what the load takes (integration to 1e-10 a step).
  expect(Math.abs(phases[0].meanAmps + phases[1].meanAmps - loadAmps)).toBeLessThan(1e-8);
  expect(phases[0].meanAmps).toBeGreaterThan(phases[1].meanAmps);
  // The EMF gives more than copper and reservoir take; the rest is the rectifier's.
  const given = 360 * phases[0].sineAmps + 350 * phases[1].sineAmps;
  const taken = meanVolts * loadAmps + 92 * phases[0].rmsAmps ** 2 + 98 * phases[1].rmsAmps ** 2;
  expect(given).toBeGreaterThan(taken);
  expect(given).toBeLessThan(1.2 * taken);
  expect(minimumVolts).toBeLessThan(meanVolts);
  expect(maximumVolts - minimumVolts).toBe(rippleVolts);
});

test('finds the same voltage from any start, and the same with the load as a line through it', () => {
  const phase = reducePhase({ emfVolts: 350, ohms: 150, law: valve, junctions: 1, isOpposite: false });
  const common = { phases: [phase, phase] as const, hertz, farads: 22e-6 };
  const mean = (guess?: number): number => {
    const found = findPeriodicState({ ...common, load: { kind: 'mean', amps: 0.08, siemens: 2e-4 } }, guess);
    return found.ok ? found.waveform.meanVolts : NaN;
  };
  const volts = mean();
  for (const guess of [1, 150, 349, 700]) expect(Math.abs(mean(guess) - volts)).toBeLessThan(1e-6);
  const line = findPeriodicState({ ...common, load: { kind: 'line', amps: 0.08, siemens: 2e-4, volts } });
  expect(line.ok && Math.abs(line.waveform.meanVolts - volts)).toBeLessThan(1e-6);
});

test('answers with a reason where there is no capacitance', () => {
  const phases = [emptyCurve(), emptyCurve()] as const;
  const load = { kind: 'mean', amps: 0.1, siemens: 0 } as const;
  expect(findPeriodicState({ phases, hertz, farads: 0, load })).toEqual({
    ok: false,
    reason: 'no-capacitance',
  });
  // Nothing feeds it: a constant current empties it for ever.
  expect(findPeriodicState({ phases, hertz, farads: 1e-6, load }).ok).toBe(false);
});

test('finds a balanced cycle for whatever a builder may wire', () => {
  const log = (min: number, max: number) =>
    fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true }).map(Math.exp);
  const supply = fc.record({
    law: fc.constantFrom(valve, diode),
    emfVolts: log(5, 700),
    ohms: log(1, 500),
    ratio: fc.double({ min: 0.8, max: 1.2, noNaN: true }),
    isHalfWave: fc.boolean(),
    // Time constants of the source, and how much of the short-circuit current is drawn.
    cycles: log(0.05, 20),
    share: log(1e-5, 0.2),
    slope: fc.constantFrom(0, 0.5, 1),
  });
  fc.assert(
    fc.property(supply, ({ law, emfVolts, ohms, ratio, isHalfWave, cycles, share, slope }) => {
      const phase = (emf: number) =>
        reducePhase({ emfVolts: emf, ohms, law, junctions: 1, isOpposite: false });
      const amps = (share * emfVolts) / (ohms + 1 / (1.7e-3 * Math.sqrt(emfVolts)));
      const found = findPeriodicState({
        phases: [phase(emfVolts), isHalfWave ? emptyCurve() : phase(emfVolts * ratio)],
        hertz,
        farads: cycles / hertz / ohms,
        load: { kind: 'mean', amps, siemens: (slope * amps) / emfVolts },
      });
      if (!found.ok) throw new Error(found.reason);
      const { phases, meanVolts } = found.waveform;
      // A voltage periodic to 5e-9 of the peak leaves that much charge in the reservoir in each cycle.
      const stray = (1e-8 * emfVolts * cycles) / ohms;
      const lack = Math.abs(phases[0].meanAmps + phases[1].meanAmps - amps);
      expect(lack).toBeLessThan(1e-7 * amps + stray);
      expect(meanVolts).toBeLessThan(emfVolts * Math.max(1, ratio));
    }),
    { numRuns: 150 },
  );
});
