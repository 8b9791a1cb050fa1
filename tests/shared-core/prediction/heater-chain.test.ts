import { describe, expect, it } from 'vitest';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { asStated } from './heron.ts';
import { smallKit } from './small-kit.ts';

const three = { low: -0.03, high: 0.03 };
const socket = { base: 'B9A', gapFaces: 0, mounted: 'chassis' } as const;

/** An EL84 (0.76 A) and an EF86 (0.2 A) in series on one winding, with a dropper before them. */
function chain(windingVolts: number, dropperOhms: number): ChosenKit {
  return smallKit({
    parts: [
      { kind: 'mains-inlet', id: 'X1' },
      {
        ...{ kind: 'mains-transformer', id: 'T1', tolerance: three },
        primary: { volts: 230, dcrOhms: 0.01 },
        windings: [{ name: 'heater', volts: windingVolts, centreTapped: false, amps: 1e-3, dcrOhms: [1e-3] }],
      },
      { kind: 'tag-strip', id: 'TS1', tags: 8, earthed: [8] },
      {
        kind: 'resistor',
        id: 'R1',
        ohms: dropperOhms,
        tolerance: three,
        watts: 5,
        between: ['TS1.1', 'TS1.2'],
      },
      { kind: 'valve', id: 'V1', type: 'EL84', socket },
      { kind: 'valve', id: 'V2', type: 'EF86', socket },
    ],
    leads: [
      ['inlet.line', 'T1.primary.a'],
      ['inlet.neutral', 'T1.primary.b'],
      ['inlet.earth', 'chassis'],
      ['T1.heater.a', 'TS1.1'],
      ['T1.heater.b', 'TS1.8'],
      ['TS1.2', 'V1.4'],
      ['V1.5', 'V2.4'],
      ['V2.5', 'TS1.8'],
    ],
    nets: { gnd: 'TS1.8' },
    conditions: [{ id: 'cold', supply: 'unplugged' }, { id: 'running' }],
    readings: [{ id: 'chain-cold', at: 'TS1.2', measure: 'ohms', in: 'cold' }],
  });
}

describe('heaters in series', () => {
  it('share a voltage by their filaments: the one with the smaller current takes by far the most', () => {
    const { state } = predictNominal(chain(12.6, 1), 'running', plainBench, asStated)!;
    const { heaterVolts } = state.mains;
    const [large, small] = [heaterVolts['V1#heater1']!, heaterVolts['V2#heater1']!];
    // One current: 0.76·(V1/6.3)^0.6 = 0.2·(V2/6.3)^0.6.
    expect(small / large).toBeCloseTo((0.76 / 0.2) ** (1 / 0.6), 6);
    const amps = 0.2 * (small / 6.3) ** 0.6;
    // The rest of the 12.6 V drops on 1 Ω.
    expect(large + small + amps * 1).toBeCloseTo(12.6, 2);
    expect(state.mains.amps['T1.heater']).toBeCloseTo(amps, 6);
  });

  it('show a small part of their hot resistance cold', () => {
    const { prediction } = predictNominal(chain(12.6, 1), 'cold', plainBench, asStated)!;
    // 0.15 of 6.3 V/0.76 A and of 6.3 V/0.2 A, and through the other way the dropper with the winding: 1 Ω in parallel.
    const heaters = 0.15 * (6.3 / 0.76 + 6.3 / 0.2);
    const round = 1 + 1e-3;
    const [reading] = prediction.readings;
    expect(reading?.nominal).toBeCloseTo((heaters * round) / (heaters + round), 3);
  });
});
