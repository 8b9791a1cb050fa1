import { describe, expect, it } from 'vitest';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { lampLimiter } from '../../../shared-core/prediction/lamp-limiter.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { asStated } from './heron.ts';
import { type LoosePart, smallKit } from './small-kit.ts';

/** A transformer almost without copper, 230 V to 10 V, with what the test puts on `TS1.1`. */
function kitWith(
  lampWatts: number,
  parts: readonly LoosePart[],
  leads: (readonly [string, string])[] = [],
): ChosenKit {
  return smallKit({
    parts: [
      { kind: 'mains-inlet', id: 'X1' },
      {
        ...{ kind: 'mains-transformer', id: 'T1', tolerance: { low: -0.03, high: 0.03 } },
        primary: { volts: 230, dcrOhms: 0.01 },
        windings: [{ name: 'low', volts: 10, centreTapped: false, amps: 0.001, dcrOhms: [0.001] }],
      },
      { kind: 'tag-strip', id: 'TS1', tags: 8, earthed: [8] },
      ...parts,
    ],
    leads: [
      ['inlet.line', 'T1.primary.a'],
      ['inlet.neutral', 'T1.primary.b'],
      ['inlet.earth', 'chassis'],
      ['T1.low.a', 'TS1.1'],
      ['T1.low.b', 'TS1.8'],
      ...leads,
    ],
    nets: { gnd: 'TS1.8' },
    conditions: [{ id: 'lamp', supply: 'lamp', lampWatts }, { id: 'running' }],
  });
}

const load = (watts: number): LoosePart => ({
  ...{ kind: 'resistor', id: 'R1', ohms: 100 / watts, tolerance: { low: -0.05, high: 0.05 }, watts: 200 },
  between: ['TS1.1', 'TS1.8'],
});
const limiterOf = (kit: ChosenKit) => lampLimiter(kit, kit.conditions[0]!, plainBench, asStated);

/** Part x of the mains on a resistor of P watts behind a lamp of L watts with I ∝ V^0.55: x·P = L·(1 − x)^0.55. */
function shareOf(lampWatts: number, loadWatts: number): number {
  let [low, high] = [0, 1];
  for (let round = 0; round < 60; round++) {
    const x = (low + high) / 2;
    if (x * loadWatts < lampWatts * (1 - x) ** 0.55) low = x;
    else high = x;
  }
  return low;
}

describe('lampLimiter', () => {
  it.each([
    [100, 100, 0.6],
    [100, 60, 0.76],
    [60, 100, 0.44],
  ])('with a lamp of %d W leaves a load of %d W its part of the mains', (lampWatts, loadWatts, part) => {
    // The closed form of tungsten alone agrees with the round figures to a hundredth.
    expect(Math.abs(shareOf(lampWatts, loadWatts) - part)).toBeLessThan(0.01);
    const { amplifierVolts, lampVolts, amps } = limiterOf(kitWith(lampWatts, [load(loadWatts)]))!;
    // The lamp's law has a cold resistance beside the power law: less than a hundredth at these voltages.
    expect(Math.abs(amplifierVolts / 230 - shareOf(lampWatts, loadWatts))).toBeLessThan(0.01);
    expect(amplifierVolts + lampVolts).toBeCloseTo(230, 9);
    // The transformer is all but ideal (1 mΩ beside 1 Ω): the primary draws P/230 V at 230 V.
    expect(amps).toBeCloseTo((amplifierVolts / 230) * (loadWatts / 230), 3);
  });

  it('shines on a short and draws its own rated current', () => {
    const { looks, amps, amplifierVolts } = limiterOf(
      kitWith(100, [{ ...load(100), ohms: 0.005 } as LoosePart]),
    )!;
    expect(looks).toBe('bright');
    // 100 W at 230 V.
    expect(amps).toBeCloseTo(100 / 230, 2);
    expect(amplifierVolts).toBeLessThan(5);
  });

  it('stays dark with nothing on the transformer', () => {
    const { looks, powerShare, amplifierVolts } = limiterOf(kitWith(60, [load(0.1)]))!;
    expect(looks).toBe('dark');
    expect(powerShare).toBeLessThan(0.01);
    expect(amplifierVolts).toBeGreaterThan(228);
  });

  it('lets heaters follow as filaments', () => {
    // An EL84 at 6.3 V 0.76 A is 4.79 W; on 10 V open it would take more: compare with the same ohms at the end.
    const kit = kitWith(
      10,
      [{ kind: 'valve', id: 'V1', type: 'EL84', socket: { base: 'B9A', gapFaces: 0, mounted: 'chassis' } }],
      [
        ['TS1.1', 'V1.4'],
        ['TS1.8', 'V1.5'],
      ],
    );
    const { heaterVolts, amps, lampVolts } = limiterOf(kit)!;
    const volts = heaterVolts['V1#heater1']!;
    expect(volts).toBeGreaterThan(2);
    expect(volts).toBeLessThan(10);
    // I = 0.76 A·(V/6.3 V)^0.6, through 10 V : 230 V.
    expect(amps).toBeCloseTo((0.76 * (volts / 6.3) ** 0.6 * 10) / 230, 3);
    expect(lampVolts).toBeCloseTo(230 - volts * 23, 1);
  });

  it('belongs to the prediction of a lamp condition only', () => {
    const kit = kitWith(60, [load(60)]);
    expect(predictNominal(kit, 'lamp', plainBench, asStated)?.prediction.lamp?.looks).toBe('dim');
    expect(predictNominal(kit, 'running', plainBench, asStated)?.prediction.lamp).toBeUndefined();
  });
});
