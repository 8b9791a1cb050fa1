/**
 * Every computed ohms reading of cold Heron against a reference simulator.
 *
 * Source: ngspice 45.2, the WASM build in the npm package eecircuit-engine 1.8.0, `.op` with a current of 1 µA
 * from the black probe's net into the red one's, 1e12 Ω from every net to the reference as the solver has it; the
 * circuit is linear, so the simulator's answer is exact but for rounding.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { currentSource } from '../../shared-core/devices/current-source.ts';
import { elementsIn } from '../../shared-core/prediction/condition-model.ts';
import { ohmsReadings } from '../../shared-core/prediction/ohms-readings.ts';
import { predictNominal } from '../../shared-core/prediction/predict-condition.ts';
import { nominalWorld } from '../../shared-core/prediction/world.ts';
import { Simulator } from '../helpers/simulator.ts';
import { asStated } from '../shared-core/prediction/heron.ts';
import { heronBuilds, simulatePoint } from './heron.ts';

const testAmps = 1e-6;

describe('cold ohms of Heron against the reference simulator', () => {
  let simulator: Simulator;
  beforeAll(() => {
    simulator = new Simulator();
  });
  afterAll(() => simulator.close());

  it.each(heronBuilds())('agree on every computed reading: $mains', async ({ chosen, bench }) => {
    const compared: string[] = [];
    for (const condition of ['cold', 'cold-on']) {
      const { prediction, state } = predictNominal(chosen, condition, bench, asStated)!;
      const { wiring } = state.model.context;
      const elements = elementsIn(state.model, nominalWorld, 0);
      for (const { id, at, against } of ohmsReadings(state.model)) {
        const { nominal, predicted } = prediction.readings.find((reading) => reading.id === id)!;
        const [red, black] = [wiring.netAt(at), wiring.netAt(against)];
        const meter = { id: '#ohmmeter', device: currentSource, nets: [black, red] };
        const theirs = await simulatePoint(
          simulator,
          {
            reference: wiring.reference,
            elements: [...elements, { ...meter, parameters: { amps: testAmps } }],
          },
          {},
        );
        const ohms = ((theirs.volts[red] ?? 0) - (theirs.volts[black] ?? 0)) / testAmps;
        expect(predicted, id).toBe('value');
        // The simulator's own tolerance.
        expect(Math.abs(nominal! / ohms - 1), `${id}: ${nominal} and ${ohms}`).toBeLessThan(1e-6);
        compared.push(id);
      }
    }
    // Every ohms reading of the kit file that states no figure of its own.
    const own = chosen.readings.filter(
      ({ measure, expect: stated }) => measure === 'ohms' && stated === null,
    );
    expect(compared.sort()).toEqual(own.map(({ id }) => id).sort());
    expect(compared.length).toBeGreaterThanOrEqual(19);
  });
});
