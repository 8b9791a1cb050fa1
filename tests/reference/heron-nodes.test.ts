/**
 * Every node of every condition of Heron against a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` at reltol 1e-6,
 * vntol 1e-8, abstol 1e-14, itl1 300, 27 °C, with 1e12 Ω from every net to the reference as the solver has it.
 * The circuit is the one that the prediction solves; an averaged supply stands there as a voltage source of
 * our own reservoir voltage, whose current must come out as ours. The reservoir voltage itself is compared
 * with a transient of the whole amplifier in `heron-transient.test.ts`.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readWithMeter } from '../../shared-core/prediction/dc-readings.ts';
import { meterId, noMeterOhms } from '../../shared-core/prediction/condition-model.ts';
import { Simulator } from '../helpers/simulator.ts';
import { circuitOf, findUnlike, heronBuilds, simulatePoint, solveHeron, suppliesOf } from './heron.ts';

const builds = heronBuilds();
const cases = builds.flatMap((build) =>
  build.chosen.conditions.map(({ id }) => ({ build, condition: id, title: `${id}, ${build.mains}` })),
);

describe('Heron against the reference simulator', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(cases)('agrees on every net: $title', async ({ build, condition }) => {
    const state = solveHeron(build, condition);
    expect(state.converged).toBe(true);
    expect(state.residualAmps).toBeLessThan(1e-9);
    const supplies = suppliesOf(state);
    const isRectified = !['cold', 'cold-on', 'insulation', 'lamp-no-valves', 'no-valves'].includes(condition);
    expect(supplies).toHaveLength(isRectified ? 1 : 0);
    const asVolts = Object.fromEntries(supplies.map(({ id, volts }) => [id, volts]));
    const theirs = await simulatePoint(simulator, circuitOf(state), { asVolts });
    expect(Object.keys(theirs.volts).sort()).toEqual([...state.solver.compiled.nets].sort());
    expect(Object.keys(theirs.volts).length).toBeGreaterThanOrEqual(20);
    expect(findUnlike((net) => state.volts(net), theirs.volts).unlike).toEqual([]);
    for (const { id, amps } of supplies) {
      // The simulator's own tolerance of currents at reltol 1e-6.
      expect(Math.abs(amps / theirs.amps[id]! - 1)).toBeLessThan(1e-6);
      expect(amps).toBeGreaterThan(1e-3);
    }
  });

  it.each(builds)('agrees with a meter in place on every DC reading: $mains', async (build) => {
    let compared = 0;
    for (const condition of ['rectifier', 'running']) {
      const state = solveHeron(build, condition);
      const readings = new Map(readWithMeter(state).map((reading) => [reading.id, reading.volts]));
      const { solver, model } = state;
      const { wiring } = model.context;
      for (const reading of model.meters) {
        solver.setParameter(meterId(reading.id), 'ohms', 10e6);
        expect(solver.solve(true).converged).toBe(true);
        const asVolts = Object.fromEntries(suppliesOf(state).map(({ id, volts }) => [id, volts]));
        const theirs = await simulatePoint(simulator, circuitOf(state), { asVolts });
        expect(findUnlike((net) => solver.volts(net), theirs.volts).unlike, reading.id).toEqual([]);
        const shown =
          (theirs.volts[wiring.netAt(reading.at)] ?? 0) - (theirs.volts[wiring.netAt(reading.against)] ?? 0);
        const volts = readings.get(reading.id)!;
        expect(Math.abs(volts - shown), `${reading.id}: ${volts} and ${shown}`).toBeLessThanOrEqual(
          Math.max(1e-6 * Math.abs(shown), 10e-6),
        );
        solver.setParameter(meterId(reading.id), 'ohms', noMeterOhms);
        compared++;
      }
    }
    expect(compared).toBe(16);
  });
});
