import { describe, expect, it } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { asStated } from './heron.ts';

const fuse = { kind: 'fuse', volts: 250, speed: 'T', breaking: 'L', amps: 1 } as const;

/** The half-wave supply behind F1, and a second transformer with 20 Ω on 10 V behind F1 and its own F2. */
const kit = halfWaveKit(
  [
    { ...fuse, id: 'F1' },
    { ...fuse, id: 'F2' },
    {
      ...{ kind: 'mains-transformer', id: 'T2', tolerance: { low: -0.03, high: 0.03 } },
      primary: { volts: 230, dcrOhms: 20 },
      windings: [{ name: 'low', volts: 10, centreTapped: false, amps: 0.5, dcrOhms: [0.5] }],
    },
    resistorOf('R1', 10e3, 'TS1.1', 'TS1.8'),
    resistorOf('R2', 20, 'T2.low.a', 'TS1.8'),
  ],
  {
    leads: [
      ['T2.low.b', 'TS1.8'],
      ['inlet.line', 'F1.a'],
      ['F1.b', 'F2.a'],
      ['F2.b', 'T2.primary.a'],
      ['inlet.neutral', 'T2.primary.b'],
    ],
  },
);

describe('fuses of two transformers', () => {
  // T1's primary is soldered to the inlet itself, before F1.
  const { prediction, state } = predictNominal(kit, 'running', plainBench, asStated)!;
  const steady = (part: string) =>
    prediction.ratings.find((rating) => rating.part === part && rating.what === 'steady current')?.value;

  it('carry the current of the transformers behind them, no others', () => {
    const { T1, T2 } = state.mains.primaryAmps;
    // 10 V rated behind 0.5 Ω: 10.25 V open by the turns, 20.5 Ω in all, and the primary's own 20 Ω hardly count.
    expect(T2).toBeGreaterThan(0.02);
    expect(T1).toBeGreaterThan(0.03);
    expect(steady('F2')).toBeCloseTo(T2!, 12);
    expect(steady('F1')).toBeCloseTo(T2!, 12);
  });
});
