import { describe, expect, it } from 'vitest';
import type { MainsTransformerPart } from '../../../shared-core/kit/kit.ts';
import { reduceTransformer } from '../../../shared-core/prediction/transformer.ts';

const transformer: MainsTransformerPart = {
  ...{ id: 'T1', kind: 'mains-transformer', title: 'T1', when: {}, tolerance: { low: 0, high: 0 } },
  primary: { volts: 230, dcrOhms: 14 },
  windings: [
    { name: 'ht', volts: 250, centreTapped: true, amps: 0.1, dcrOhms: [92, 98] },
    { name: 'heater', volts: 6.3, centreTapped: false, amps: 3, dcrOhms: [0.09] },
  ],
};

describe('reduceTransformer', () => {
  it('gives back the rated voltages when every winding carries its own current', () => {
    const reduced = reduceTransformer(transformer);
    const [ht, heater] = reduced.windings;
    if (!ht || !heater) throw new Error('two windings');
    // Loaded by hand: both halves of the HT winding carry 0.1 A, the heater winding 3 A.
    const primaryAmps = 2 * ht.ratio * 0.1 + heater.ratio * 3;
    const behind = 230 - 14 * primaryAmps;
    expect(heater.ratio * behind - 0.09 * 3).toBeCloseTo(6.3, 10);
    expect(2 * ht.ratio * behind - (92 + 98) * 0.1).toBeCloseTo(500, 8);
  });

  it('stands higher with nothing connected', () => {
    const [ht] = reduceTransformer(transformer).windings;
    expect((ht?.ratio ?? 0) * 230).toBeGreaterThan(259.5);
  });
});
