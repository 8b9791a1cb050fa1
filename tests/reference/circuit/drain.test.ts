/**
 * Drain with hot valves against a transient of a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.tran 5m 20 0 5m uic` with
 * the capacitors' voltages as `ic`, reltol 1e-6. Seconds.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drainNonlinear } from '../../../shared-core/circuit/drain-nonlinear.ts';
import { readStores } from '../../../shared-core/circuit/drain.ts';
import { Solver } from '../../../shared-core/circuit/solver.ts';
import { circuit } from '../../helpers/circuit.ts';
import { writeNetlist } from '../../helpers/netlist.ts';
import { outputStage } from '../../helpers/output-stage.ts';
import { Simulator } from '../../helpers/simulator.ts';

describe('drain against the reference simulator', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it('agrees on the time of every store of an output stage with hot valves', async () => {
    const solver = new Solver(outputStage);
    expect(solver.solve().converged).toBe(true);
    const start = readStores(solver);
    const of = circuit(...outputStage.elements.filter(({ id }) => id !== 'B'));
    const safeVolts = 30;
    const ours = drainNonlinear(of, start, { safeVolts, untilSeconds: 20 });
    expect(ours.failure).toBeNull();

    const { text, nodes } = writeNetlist(of, ['.tran 5m 20 0 5m uic'], { startVolts: start });
    const { errors, names, columns } = await simulator.run(text);
    expect(errors).toEqual([]);
    const column = (name: string): readonly number[] => {
      const index = names.findIndex((each) => each.toLowerCase() === name);
      return columns[index]?.map(Number) ?? [];
    };
    const seconds = column('time');
    expect(seconds.length).toBeGreaterThan(3000);
    const volts = (net: string): readonly number[] =>
      net === 'gnd' ? seconds.map(() => 0) : column(`v(${nodes.get(net)})`);
    let compared = 0;
    for (const store of ours.stores) {
      const [plus, minus] = of.elements.find(({ id }) => id === store.element)!.nets.map(volts) as [
        readonly number[],
        readonly number[],
      ];
      const across = plus.map((each, index) => Math.abs(each - minus[index]!));
      const last = across.findLastIndex((each) => each > safeVolts);
      // At most 5 ms between points of the simulator; 0.2 % for both integrations.
      const expected = last < 0 ? 0 : seconds[last]!;
      expect(Math.abs(store.seconds! - expected), store.element).toBeLessThanOrEqual(5e-3 + 2e-3 * expected);
      if (expected > 0) compared++;
    }
    expect(compared).toBeGreaterThanOrEqual(3);
  });
});
