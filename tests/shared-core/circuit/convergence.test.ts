import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CircuitElement } from '../../../shared-core/circuit/circuit.ts';
import { readOperatingPoint } from '../../../shared-core/circuit/operating-point.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { currentSource } from '../../../shared-core/devices/current-source.ts';
import { diode } from '../../../shared-core/devices/diode.ts';
import { voltageSource } from '../../../shared-core/devices/voltage-source.ts';
import { circuit, element, r, v } from '../../helpers/circuit.ts';
import { pushPull, singleFaults } from '../../helpers/push-pull.ts';

const faults = singleFaults(pushPull);

describe('convergence', () => {
  it('solves the healthy push-pull amplifier in a few iterations from nothing', () => {
    const solver = new Solver(circuit(...pushPull));
    const { converged, iterations, method } = solver.solve();
    expect({ converged, method }).toEqual({ converged: true, method: 'direct' });
    expect(iterations).toBeLessThanOrEqual(8);
    expect(readOperatingPoint(solver).residualAmps).toBeLessThan(1e-11);
  });

  it('solves every single fault directly within 30 iterations', () => {
    expect(faults.length).toBeGreaterThan(120);
    const slow = faults.flatMap(({ title, elements }) => {
      const { converged, iterations, method } = new Solver(circuit(...elements)).solve();
      return converged && method === 'direct' && iterations <= 30 ? [] : [`${title}: ${iterations}`];
    });
    expect(slow).toEqual([]);
  });

  it('keeps the current law to 1 nA on every single fault', () => {
    for (const { title, elements } of faults) {
      const solver = new Solver(circuit(...elements));
      solver.solve();
      // 0.1 Ω carries amperes at some 400 V: rounding alone is 1e-12 A, the last Newton step a little more.
      expect(readOperatingPoint(solver).residualAmps, title).toBeLessThan(1e-9);
    }
  });

  it('solves up to three faults at once with every resistor scattered over a factor of e', () => {
    const scatter = fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), {
      minLength: 60,
      maxLength: 60,
    });
    const picks = fc.uniqueArray(fc.nat(faults.length - 1), { maxLength: 3 });
    fc.assert(
      fc.property(scatter, picks, (exponents, indices) => {
        let elements: readonly CircuitElement[] = pushPull.map((each, index) => {
          const ohms = each.parameters['ohms'];
          if (ohms === undefined) return each;
          return { ...each, parameters: { ...each.parameters, ohms: ohms * Math.exp(exponents[index]!) } };
        });
        indices.forEach((index, order) => {
          const again = singleFaults(elements)[index % singleFaults(elements).length]!;
          elements = again.elements.map((each) =>
            each.id === 'short' ? { ...each, id: `short${order}` } : each,
          );
        });
        expect(new Solver(circuit(...elements)).solve().converged).toBe(true);
      }),
      { numRuns: 150 },
    );
  });

  it('finds a Zener and a diode string from nothing, and the same point warm', () => {
    const solver = new Solver(
      circuit(
        v('B', 'b', 400),
        r('R', 'b', 'z', 22e3),
        element('Z', diode, ['gnd', 'z'], { breakdownVolts: 150, breakdownOhms: 20, breakdownAmps: 1e-4 }),
        r('R2', 'z', 'd', 1e3),
        element('D1', diode, ['d', 'e']),
        element('D2', diode, ['e', 'gnd']),
      ),
    );
    expect(solver.solve().converged).toBe(true);
    const cold = Float64Array.from(solver.unknowns);
    expect(solver.solve(true).iterations).toBeLessThanOrEqual(2);
    solver.unknowns.forEach((value, index) => expect(value).toBeCloseTo(cold[index]!, 8));
  });

  it('keeps nets within twice what the sources span, a volt to spare, while it iterates', () => {
    const range = (...elements: readonly CircuitElement[]): readonly number[] => {
      const { equations, size } = new Solver(circuit(...elements, r('R', 'a', 'gnd', 1e3)));
      equations.startAt(new Float64Array(size + 1), false);
      return [1e9, -1e9].map((far) => {
        const x = new Float64Array(size + 1).fill(far);
        expect(equations.confine(x)).toBe(true);
        expect(equations.confine(x)).toBe(false);
        return x[0]!;
      });
    };
    expect(range(v('B', 'a', 300), v('N', 'b', -60))).toEqual([602, -122]);
    const floating = element('F', voltageSource, ['b', 'a'], { volts: 10 });
    expect(range(floating)).toEqual([22, -22]);
    const turned = element('F', voltageSource, ['gnd', 'a'], { volts: 10 });
    expect(range(turned)).toEqual([2, -22]);
  });

  it('does not confine a circuit with a current source', () => {
    const source = element('I', currentSource, ['gnd', 'a'], { amps: 1 });
    const solver = new Solver(circuit(source, r('R', 'a', 'gnd', 1e5)));
    expect(solver.solve().converged).toBe(true);
    // 1 A through 100 kΩ; 1e-12 S beside it takes a tenth of a millivolt off each thousand volts.
    expect(Math.abs(solver.volts('a') - 1e5)).toBeLessThan(0.02);
  });

  it('says so when a device has no solution that Newton can reach', () => {
    // The law below sends at least 1 µA into a net that only gmin drains.
    const { converged, failure } = new Solver(
      circuit(v('B', 'b', 1), r('R', 'b', 'gnd', 1e3), element('D', jump, ['b', 'x'])),
      { maxIterations: 30 },
    ).solve();
    expect(converged).toBe(false);
    expect(failure).toEqual({ kind: 'no-convergence', at: 'x' });
  });
});

/** A law without a root: its current never falls below 1 µA, yet its slope says it will. */
const jump = {
  name: 'jump',
  pins: ['1', '2'],
  parameters: [],
  evaluate(
    unknowns: Float64Array,
    _parameters: Float64Array,
    out: { residuals: Float64Array; derivatives: Float64Array },
  ) {
    const volts = unknowns[0]! - unknowns[1]!;
    const amps = 1e-6 + 1e-6 * volts * volts;
    out.residuals.set([-amps, amps]);
    out.derivatives.set([-2e-6 * volts, 2e-6 * volts, 2e-6 * volts, -2e-6 * volts]);
  },
};
