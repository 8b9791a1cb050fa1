import { describe, expect, it } from 'vitest';
import { Solver } from '../../shared-core/circuit/solver.ts';
import { circuit } from './circuit.ts';
import { faultList, pushPullFour } from './push-pull-four.ts';

describe('the push-pull amplifier of the speed figures', () => {
  it('has 43 nets, and four output valves at work', () => {
    const solver = new Solver(circuit(...pushPullFour));
    expect(solver.solve().converged).toBe(true);
    expect(solver.compiled.nets).toHaveLength(43);
    // 10 Ω in each cathode: between cut off and the 100 W that four valves of 25 W may take of 437 V.
    for (const cathode of ['k4', 'k5', 'k6', 'k7']) {
      expect(solver.volts(cathode)).toBeGreaterThan(0.1);
      expect(solver.volts(cathode)).toBeLessThan(0.57);
    }
  });

  it('has 312 faults, each solved without stepping within 30 iterations', () => {
    const faults = faultList(pushPullFour);
    expect(new Set(faults.map(({ title }) => title)).size).toBe(312);
    const slow = faults.flatMap(({ title, elements }) => {
      const { converged, method, iterations } = new Solver(circuit(...elements)).solve();
      return converged && method === 'direct' && iterations <= 30 ? [] : [title];
    });
    expect(slow).toEqual([]);
  });
});
