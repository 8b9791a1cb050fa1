import { beforeAll, describe, expect, it } from 'vitest';
import { conditionOn } from '../../../shared-core/bands/condition-on.ts';
import { fullRun } from '../../../shared-core/bands/full-run.ts';
import { predictBands } from '../../../shared-core/bands/predict-bands.ts';
import { quantileOfSorted } from '../../../shared-core/bands/quantile.ts';
import { SampleBook } from '../../../shared-core/bands/sample-book.ts';
import { toleranceRun } from '../../../shared-core/bands/tolerance-run.ts';
import { type Bench, plainBench } from '../../../shared-core/prediction/bench.ts';
import type { ConditionPrediction } from '../../../shared-core/prediction/prediction.ts';
import { halfWaveKit, resistorOf } from '../prediction/half-wave-kit.ts';
import { asStated, chooseHeron } from '../prediction/heron.ts';

const { chosen } = chooseHeron();
const perfectMeter: Bench = {
  ...plainBench,
  meter: { ...plainBench.meter, accuracy: { dcVolts: 0, acVolts: 0, ohms: 0 } },
};

function bands(condition: string, bench = plainBench, fitted = asStated, kit = chosen): ConditionPrediction {
  const prediction = predictBands(kit, condition, bench, fitted, new SampleBook(1));
  if (!prediction) throw new Error(`no condition ${condition}`);
  return prediction;
}

function width(prediction: ConditionPrediction, id: string): number {
  const reading = prediction.readings.find((each) => each.id === id);
  return (reading?.high ?? 0) - (reading?.low ?? 0);
}

describe('predictBands on Heron', { timeout: 60_000 }, () => {
  let running: ConditionPrediction;
  let exact: ConditionPrediction;
  beforeAll(() => {
    running = bands('running');
    exact = bands('running', perfectMeter);
  }, 60_000);

  it('holds nominal inside the inner band and that inside the outer one', () => {
    const computed = running.readings.filter(
      ({ source, predicted }) => source === 'computed' && predicted === 'value',
    );
    expect(computed.length).toBeGreaterThan(8);
    for (const { id, lowest, low, nominal, high, highest } of computed) {
      const order = [lowest, low, nominal, high, highest];
      expect(order, id).toEqual([...order].sort((a, b) => (a ?? 0) - (b ?? 0)));
      expect(high, id).toBeGreaterThan(low ?? 0);
    }
  });

  it('agrees with thousands of amplifiers that were each solved', () => {
    const count = 4000;
    const run = toleranceRun(chosen, 'running', perfectMeter, asStated, count, 7);
    expect(run.failed).toBe(0);
    run.readings.forEach((id, column) => {
      const reading = exact.readings.find((each) => each.id === id);
      if (reading?.source !== 'computed' || Math.abs(reading.nominal ?? 0) < 5) return;
      const sorted = Float64Array.from(run.rows, (row) => row[column] ?? 0).sort();
      const half = width(exact, id) / 2;
      // Of 4000 samples the 1 % quantile of a normal law has a standard error of 0.025 half widths; three of
      // them on this side, one on the band's own (20,000 samples), and 0.02 for pairs of quantities that the
      // separate parabolas leave out.
      const tolerance = 0.12 * half;
      expect(Math.abs(quantileOfSorted(sorted, 0.01) - (reading.low ?? 0)), `${id} low`).toBeLessThan(
        tolerance,
      );
      expect(Math.abs(quantileOfSorted(sorted, 0.99) - (reading.high ?? 0)), `${id} high`).toBeLessThan(
        tolerance,
      );
    });
  });

  it('solves the same amplifiers in the fast run as in the full one', () => {
    const [fast, full] = [toleranceRun, fullRun].map((run) =>
      run(chosen, 'running', perfectMeter, asStated, 12, 3),
    );
    for (const [row, values] of (full?.rows ?? []).entries()) {
      full?.readings.forEach((id, column) => {
        const other = fast?.rows[row]?.[fast.readings.indexOf(id)];
        if (other === undefined) return;
        // Frozen ripple, meter share and products of parabolas: 0.1 % of the reading at ±2 σ of everything.
        expect(Math.abs(other / (values[column] ?? 0) - 1), `${id} of amplifier ${row}`).toBeLessThan(2e-3);
      });
    }
  });

  it('names the mains as what moves B+ most', () => {
    const b1 = running.readings.find(({ id }) => id === 'b1-running');
    expect(b1?.contributors[0]?.what).toBe('mains voltage');
    const shares = b1?.contributors.map(({ share }) => share) ?? [];
    expect(shares.reduce((sum, share) => sum + share, 0)).toBeLessThanOrEqual(1);
  });

  it('narrows with a measured mains and measured parts', () => {
    const measuredMains = { ...plainBench, mains: { ...plainBench.mains, source: 'measured' as const } };
    const mains = bands('running', measuredMains);
    expect(width(mains, 'b1-running')).toBeLessThan(0.75 * width(running, 'b1-running'));
    const measured = { R10: 100e3, R11: 1500, R12: 1e6, R16: 1500, R17: 47e3, R21: 430, R22: 430 };
    const parts = bands('running', measuredMains, { measured, valves: {} });
    expect(width(parts, 'v1b-cathode')).toBeLessThan(width(mains, 'v1b-cathode'));
    expect(width(parts, 'v1a-anode')).toBeLessThan(width(mains, 'v1a-anode'));
  });

  it('keeps a covariance that says how readings go together', () => {
    const ids = running.readings.map(({ id }) => id);
    const [b1, b2] = [ids.indexOf('b1-running'), ids.indexOf('b2-running')];
    const at = (row: number, column: number): number => running.covariance[row]?.[column] ?? 0;
    expect(at(b1, b2) / Math.sqrt(at(b1, b1) * at(b2, b2))).toBeGreaterThan(0.99);
    expect(at(b1, b2)).toBe(at(b2, b1));
    // A normal law's 1–99 % band is 4.65 σ wide; the flat and cut-off parts make it narrower.
    expect(width(running, 'b1-running') / Math.sqrt(at(b1, b1))).toBeGreaterThan(3.9);
    expect(width(running, 'b1-running') / Math.sqrt(at(b1, b1))).toBeLessThan(4.7);
  });

  it('expects the rest high where B+ is high, with a narrower band', () => {
    const b1 = running.readings.find(({ id }) => id === 'b1-running');
    const value = (b1?.nominal ?? 0) * 1.04;
    const conditioned = conditionOn(running, [{ id: 'b1-running', value }], { 'b1-running': 'B1' });
    const b2 = conditioned.find(({ prediction }) => prediction.id === 'b2-running');
    const before = running.readings.find(({ id }) => id === 'b2-running');
    expect(b2?.because).toMatch(/^Because B1 reads 4 % high here, expect 27\d\u202fV\.$/);
    expect((b2?.prediction.nominal ?? 0) / (before?.nominal ?? 1)).toBeCloseTo(1.04, 2);
    const narrowed = (b2?.prediction.high ?? 0) - (b2?.prediction.low ?? 0);
    expect(narrowed).toBeLessThan(0.4 * width(running, 'b2-running'));
    expect(b2?.prediction.stopAbove).toBe(before?.stopAbove);
  });
});

describe('predictBands', { timeout: 30_000 }, () => {
  it('is the tolerance of the resistor for a cold reading', () => {
    const kit = halfWaveKit([resistorOf('R1', 10e3, 'TS1.1', 'TS1.2')], {
      readings: [{ id: 'r1', at: 'TS1.1', against: 'TS1.2', measure: 'ohms', in: 'cold' }],
    });
    const [r1] = bands('cold', perfectMeter, asStated, kit).readings;
    // A bell cut off at ±5 % = 2 σ: its 1 % quantile lies where Φ(z) = 0.02275 + 0.009545,
    // z = −1.848, so ±4.62 %; 20,000 samples leave a standard error of 2.3 Ω, three are allowed.
    const edge = 10e3 * 0.05 * (1.848 / 2);
    expect(Math.abs((r1?.low ?? 0) - (10e3 - edge))).toBeLessThan(7);
    expect(Math.abs((r1?.high ?? 0) - (10e3 + edge))).toBeLessThan(7);
    expect(r1?.contributors[0]?.what).toBe('R1');
  });

  it('gives the same bands for the same seed and others for another', () => {
    const kit = halfWaveKit([resistorOf('R1', 100e3, 'TS1.1', 'TS1.8')], {
      readings: [{ id: 'b1', at: 'b1', measure: 'dc volts', in: 'running' }],
    });
    const of = (seed: number) =>
      predictBands(kit, 'running', plainBench, asStated, new SampleBook(seed))?.readings;
    expect(of(1)).toEqual(of(1));
    expect(of(1)?.[0]?.low).not.toBe(of(2)?.[0]?.low);
  });

  it('answers nothing for a condition that the kit does not have', () => {
    expect(predictBands(chosen, 'no-such', plainBench, asStated)).toBeUndefined();
  });
});
