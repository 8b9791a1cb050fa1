/**
 * Every single fault of an output stage against a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` at reltol 1e-6,
 * vntol 1e-8, abstol 1e-14, itl1 300, 27 °C, with 1e12 Ω from every net to the reference as the solver has it.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { solveOperatingPoint } from '../../../shared-core/circuit/operating-point.ts';
import { circuit } from '../../helpers/circuit.ts';
import { outputStage } from '../../helpers/output-stage.ts';
import { singleFaults } from '../../helpers/push-pull.ts';
import { Simulator } from '../../helpers/simulator.ts';

describe('single faults against the reference simulator', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it('agree on every net of every fault', async () => {
    const faults = singleFaults(outputStage.elements);
    expect(faults.length).toBe(55);
    const unlike: string[] = [];
    for (const { title, elements } of faults) {
      const of = circuit(...elements);
      const { volts, converged } = solveOperatingPoint(of);
      expect(converged, title).toBe(true);
      const reference = await simulator.operatingPoint(of);
      for (const [net, expected] of Object.entries(reference)) {
        // The simulator's own tolerance: 1e-6 relative; 10 µV near zero volts. Without L1 nothing feeds the
        // anodes: shut valves and 1e-12 S hold them, where 3e-14 A of error, far below abstol, is 6 mV.
        const floor = title === 'L1 missing' ? 10e-3 : 10e-6;
        const allowed = Math.max(1e-6 * Math.abs(expected), floor);
        const difference = Math.abs(volts[net]! - expected);
        if (!(difference <= allowed)) unlike.push(`${title}: ${net} ${volts[net]} and ${expected}`);
      }
    }
    expect(unlike).toEqual([]);
  });
});
