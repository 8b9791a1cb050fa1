/**
 * Semiconductors, regulators and the push-pull transformer, nominal and in every single fault.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` at reltol 1e-6,
 * vntol 1e-8, abstol 1e-14, itl1 300, 27 °C, with 1e12 Ω from every net to the reference as the solver has
 * it. Bipolar transistors are the simulator's own model; the other laws are typed in by hand.
 */
import { afterAll, describe, expect, test } from 'vitest';
import { solveOperatingPoint } from '../../../shared-core/circuit/operating-point.ts';
import { circuit } from '../../helpers/circuit.ts';
import { singleFaults } from '../../helpers/push-pull.ts';
import { Simulator } from '../../helpers/simulator.ts';
import { semiconductorCircuits } from './semiconductor-circuits.ts';

describe('against the reference simulator', () => {
  const simulator = new Simulator();
  afterAll(() => simulator.close());

  test.each(semiconductorCircuits)('$title', async ({ of }) => {
    const { volts, iterations, residualAmps, method } = solveOperatingPoint(of);
    expect(method).toBe('direct');
    expect(iterations).toBeLessThanOrEqual(16);
    expect(residualAmps).toBeLessThan(1e-9);
    const reference = await simulator.operatingPoint(of);
    for (const [net, expected] of Object.entries(reference)) {
      // The simulator's own tolerance.
      const allowed = Math.max(1e-6 * Math.abs(expected), 10e-6);
      expect(Math.abs(volts[net]! - expected), `${net}: ${volts[net]} and ${expected}`).toBeLessThan(allowed);
    }
  });

  test.each(semiconductorCircuits)('every single fault converges without stepping: $title', ({ of }) => {
    for (const { title, elements } of singleFaults(of.elements)) {
      const solved = solveOperatingPoint(circuit(...elements));
      expect(solved.converged, title).toBe(true);
      expect(solved.method, title).toBe('direct');
      expect(solved.iterations, title).toBeLessThanOrEqual(30);
    }
  });
});
