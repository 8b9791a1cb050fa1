import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drainLinear } from '../../../shared-core/circuit/drain-linear.ts';
import { drainNonlinear } from '../../../shared-core/circuit/drain-nonlinear.ts';
import { readStores } from '../../../shared-core/circuit/drain.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { lamp } from '../../../shared-core/devices/lamp.ts';
import { rectifierValve } from '../../../shared-core/devices/rectifier-valve.ts';
import { c, circuit, element, l, r, v } from '../../helpers/circuit.ts';

/** Closed form of one capacitor and one bleeder: t = R·C·ln(V0/V). */
const bleedSeconds = (ohms: number, farads: number, from: number, to: number): number =>
  ohms * farads * Math.log(from / to);

describe('drain of resistors and capacitors', () => {
  it.each([
    // µF, kΩ, V; seconds to 60, 50 and 30 V: RC·ln(V0/V) to three figures.
    [100, 220, 450, 44.3, 48.3, 59.6],
    [47, 220, 400, 19.6, 21.5, 26.8],
    [200, 100, 500, 42.4, 46.1, 56.3],
    [330, 47, 420, 30.2, 33.0, 40.9],
  ])('%d µF with %d kΩ from %d V reaches 60, 50 and 30 V in time', (micro, kilo, volts, ...times) => {
    const bleeder = circuit(c('C1', 'b', 'gnd', micro * 1e-6), r('R1', 'b', 'gnd', kilo * 1e3));
    [60, 50, 30].forEach((safeVolts, index) => {
      const { stores } = drainLinear(bleeder, { C1: volts }, { safeVolts });
      const exact = bleedSeconds(kilo * 1e3, micro * 1e-6, volts, safeVolts);
      // The solution is exact: rounding and a 1e-16 S tie only.
      expect(Math.abs(stores[0]!.seconds! / exact - 1)).toBeLessThan(1e-9);
      expect(stores[0]!.seconds).toBeCloseTo(times[index]!, 0.9);
    });
  });

  it('gives 10.1 J for 100 µF at 450 V', () => {
    const { stores } = drainLinear(
      circuit(c('C1', 'b', 'gnd', 100e-6), r('R1', 'b', 'gnd', 220e3)),
      { C1: 450 },
      { safeVolts: 30 },
    );
    expect(stores[0]!.joules).toBeCloseTo(10.125, 10);
  });

  it('follows two capacitors and three resistors as the closed form of the 2 × 2 system does', () => {
    const [c1, c2, ra, rb, rc] = [47e-6, 22e-6, 220e3, 10e3, 470e3];
    const ladder = circuit(
      c('C1', 'a', 'gnd', c1),
      c('C2', 'b', 'gnd', c2),
      r('Ra', 'a', 'gnd', ra),
      r('Rb', 'a', 'b', rb),
      r('Rc', 'b', 'gnd', rc),
    );
    const outcome = drainLinear(ladder, { C1: 400, C2: 100 }, { safeVolts: 30 });
    // v' = M v, M = [[−(1/ra+1/rb)/c1, 1/(rb·c1)], [1/(rb·c2), −(1/rb+1/rc)/c2]]; eigenvalues by the quadratic formula.
    const m = [-(1 / ra + 1 / rb) / c1, 1 / (rb * c1), 1 / (rb * c2), -(1 / rb + 1 / rc) / c2] as const;
    const mean = (m[0] + m[3]) / 2;
    const root = Math.sqrt(((m[0] - m[3]) / 2) ** 2 + m[1] * m[2]);
    const at = (time: number): number => {
      const [fast, slow] = [mean - root, mean + root];
      const share = (m[0] * 400 + m[1] * 100 - fast * 400) / (slow - fast);
      return share * Math.exp(slow * time) + (400 - share) * Math.exp(fast * time);
    };
    outcome.seconds.forEach((time, index) => {
      expect(Math.abs(outcome.stores[0]!.curve[index]! - at(time))).toBeLessThan(1e-8);
    });
  });

  it('names the capacitor behind the series resistor as the worst, not the reservoir', () => {
    const outcome = drainLinear(
      circuit(
        c('C1', 'a', 'gnd', 22e-6),
        c('C2', 'b', 'gnd', 47e-6),
        r('bleeder', 'a', 'gnd', 100e3),
        r('R1', 'a', 'b', 220e3),
      ),
      { C1: 300, C2: 300 },
      { safeVolts: 30 },
    );
    expect(outcome.worst).toBe('C2');
    const [first, second] = outcome.stores;
    expect(second!.seconds!).toBeGreaterThan(1.2 * first!.seconds!);
  });

  it('answers null for a store without a path, beside small capacitors and stiff switches', () => {
    const outcome = drainLinear(
      circuit(
        c('C1', 'a', 'gnd', 100e-6),
        c('C2', 'p', 'q', 47e-6),
        c('C3', 'b', 'gnd', 1e-10),
        r('R1', 'a', 'gnd', 220e3),
        r('R2', 'a', 'b', 0.05),
      ),
      { C1: 400, C2: 300 },
      { safeVolts: 30 },
    );
    expect(outcome.worst).toBe('C2');
    expect(outcome.stores.find((store) => store.element === 'C2')!.seconds).toBeNull();
    expect(outcome.stores.find((store) => store.element === 'C1')!.seconds).not.toBeNull();
  });

  it('sees a store that starts empty and is charged above the safe voltage by its neighbour', () => {
    const outcome = drainLinear(
      circuit(
        c('C1', 'a', 'gnd', 100e-6),
        c('C2', 'b', 'gnd', 10e-6),
        r('R1', 'a', 'b', 10e3),
        r('R2', 'b', 'gnd', 220e3),
      ),
      { C1: 400 },
      { safeVolts: 60 },
    );
    expect(outcome.stores[1]!.volts).toBe(0);
    expect(outcome.stores[1]!.seconds!).toBeGreaterThan(30);
  });

  it('shares charge at once between parallel capacitors, either way round', () => {
    const outcome = drainLinear(
      circuit(c('C1', 'a', 'gnd', 30e-6), c('C2', 'gnd', 'a', 10e-6), r('R1', 'a', 'gnd', 100e3)),
      { C1: 400 },
      { safeVolts: 30 },
    );
    const exact = bleedSeconds(100e3, 40e-6, 300, 30);
    expect(outcome.stores[0]!.curve[0]).toBeCloseTo(300, 6);
    expect(outcome.stores[1]!.curve[0]).toBeCloseTo(-300, 6);
    for (const store of outcome.stores) expect(Math.abs(store.seconds! / exact - 1)).toBeLessThan(1e-9);
  });

  it('parts a delta of three capacitors', () => {
    const outcome = drainLinear(
      circuit(
        c('C1', 'a', 'gnd', 10e-6),
        c('C2', 'a', 'b', 10e-6),
        c('C3', 'b', 'gnd', 10e-6),
        r('R1', 'a', 'gnd', 100e3),
      ),
      { C1: 200, C2: 100, C3: 100 },
      { safeVolts: 30 },
    );
    expect(outcome.failure).toBeNull();
    // C2 and C3 in series hold no charge that R1 cannot reach: 10 µF + 5 µF from 200 V.
    const exact = bleedSeconds(100e3, 15e-6, 200, 30);
    expect(Math.abs(outcome.stores[0]!.seconds! / exact - 1)).toBeLessThan(1e-5);
  });

  it('never stays above the safe voltage after the time it states', () => {
    const value = fc.double({ min: 3, max: 6, noNaN: true }).map((exponent) => 10 ** exponent);
    const farads = fc.double({ min: -8, max: -3.5, noNaN: true }).map((exponent) => 10 ** exponent);
    const volts = fc.double({ min: -500, max: 500, noNaN: true });
    fc.assert(
      fc.property(
        fc.tuple(value, value, value, value),
        fc.tuple(farads, farads, farads),
        fc.tuple(volts, volts, volts),
        ([r1, r2, r3, r4], [c1, c2, c3], [v1, v2, v3]) => {
          const outcome = drainLinear(
            circuit(
              c('C1', 'a', 'gnd', c1),
              c('C2', 'b', 'gnd', c2),
              c('C3', 'b', 'd', c3),
              ...[
                r('R1', 'a', 'gnd', r1),
                r('R2', 'a', 'b', r2),
                r('R3', 'b', 'd', r3),
                r('R4', 'd', 'gnd', r4),
              ],
            ),
            { C1: v1, C2: v2, C3: v3 },
            { safeVolts: 30 },
          );
          for (const store of outcome.stores) {
            const later = store.curve.filter(
              (_, index) => outcome.seconds[index]! > store.seconds! * (1 + 1e-9),
            );
            expect(Math.max(0, ...later.map(Math.abs))).toBeLessThanOrEqual(30 * (1 + 1e-9));
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('drain with what conducts', () => {
  it('agrees with the exact sum of exponentials on a linear ladder within 0.1 %', () => {
    const ladder = circuit(
      c('C1', 'a', 'gnd', 47e-6),
      c('C2', 'b', 'gnd', 22e-6),
      c('C3', 'b', 'g', 22e-9),
      r('R1', 'a', 'b', 10e3),
      r('R2', 'a', 'gnd', 220e3),
      r('R3', 'g', 'gnd', 470e3),
    );
    const start = { C1: 400, C2: 350, C3: 300 };
    const exact = drainLinear(ladder, start, { safeVolts: 30 });
    const stepped = drainNonlinear(ladder, start, { safeVolts: 30, untilSeconds: 600 });
    expect(stepped.failure).toBeNull();
    stepped.stores.forEach((store, index) => {
      expect(Math.abs(store.seconds! / exact.stores[index]!.seconds! - 1)).toBeLessThan(1e-3);
    });
  });

  it('drains a capacitor through a three-halves-power valve as the closed form says', () => {
    // C dv/dt = −G·v^1.5 gives t = 2C/G·(1/√v − 1/√v0).
    const [farads, perveance] = [47e-6, 1e-4];
    const outcome = drainNonlinear(
      circuit(c('C1', 'a', 'gnd', farads), element('V1', rectifierValve, ['a', 'gnd'], { perveance })),
      { C1: 300 },
      { safeVolts: 30, untilSeconds: 100 },
    );
    const exact = ((2 * farads) / perveance) * (1 / Math.sqrt(30) - 1 / Math.sqrt(300));
    expect(Math.abs(outcome.stores[0]!.seconds! / exact - 1)).toBeLessThan(1e-3);
  });

  it('lets fading emission leave the rest to the bleeder', () => {
    const build = circuit(
      c('C1', 'a', 'gnd', 47e-6),
      r('R1', 'a', 'gnd', 220e3),
      element('V1', rectifierValve, ['a', 'gnd'], { perveance: 1e-5 }),
    );
    const time = (vary?: (s: number, set: (e: string, p: string, value: number) => void) => void): number =>
      drainNonlinear(build, { C1: 400 }, { safeVolts: 30, untilSeconds: 600, vary }).stores[0]!.seconds!;
    const hot = time();
    const fading = time((seconds, set) => set('V1', 'emission', Math.exp(-seconds / 0.5)));
    const cold = time((_seconds, set) => set('V1', 'emission', 0));
    expect(hot).toBeLessThan(fading);
    expect(fading).toBeLessThan(cold);
    expect(Math.abs(cold / bleedSeconds(220e3, 47e-6, 400, 30) - 1)).toBeLessThan(1e-3);
  });

  it('follows a choke that rings: damped cosine of the series circuit', () => {
    const [henries, ohms, farads] = [10, 200, 10e-6];
    const outcome = drainNonlinear(
      circuit(c('C1', 'a', 'gnd', farads), l('L1', 'a', 'gnd', henries, ohms)),
      { C1: 100 },
      { safeVolts: 1, untilSeconds: 1 },
    );
    const damping = ohms / (2 * henries);
    const omega = Math.sqrt(1 / (henries * farads) - damping ** 2);
    const exact = (time: number): number =>
      100 * Math.exp(-damping * time) * (Math.cos(omega * time) + (damping / omega) * Math.sin(omega * time));
    const errors = outcome.seconds.map((time, index) =>
      time < 0.3 ? Math.abs(outcome.stores[0]!.curve[index]! - exact(time)) : 0,
    );
    // 2e-5 a step over about a hundred steps, and chords between them: h²/8·v'' = 0.1 V.
    expect(Math.max(...errors)).toBeLessThan(0.4);
  });

  it('answers null where a diode keeps a bias store from its bleeder', () => {
    const outcome = drainNonlinear(
      circuit(
        c('C1', 'gnd', 'bias', 47e-6),
        element('D1', diode, ['bias', 'x'], {}),
        r('R1', 'x', 'gnd', 100e3),
      ),
      { C1: 60 },
      { safeVolts: 30, untilSeconds: 3600 },
    );
    expect(outcome.stores[0]!.seconds).toBeNull();
  });

  it('starts from the capacitors of a solved circuit', () => {
    const solver = new Solver(
      circuit(
        v('B', 'b', 300),
        r('R1', 'b', 'a', 10e3),
        element('L1', lamp, ['a', 'gnd'], { ratedVolts: 240, ratedWatts: 15 }),
        c('C1', 'a', 'gnd', 1e-5),
        c('C2', 'gnd', 'b', 1e-5),
      ),
    );
    expect(solver.solve().converged).toBe(true);
    const start = readStores(solver);
    expect(start['C1']).toBeCloseTo(solver.volts('a'), 9);
    expect(start['C2']).toBeCloseTo(-300, 9);
  });
});
