import { expect, test } from 'vitest';
import { averagePhase } from '../../../../shared-core/circuit/supply/averaged-current.ts';
import {
  phaseCurrent,
  type RectifierLaw,
  reducePhase,
} from '../../../../shared-core/circuit/supply/rectifier-law.ts';

const laws: readonly RectifierLaw[] = [
  { kind: 'ideal' },
  { kind: 'valve', perveance: 1.7085e-3 },
  { kind: 'valve', perveance: 0.269e-3 },
  { kind: 'semiconductor', saturationAmps: 1e-9, emission: 1.8, bulkOhms: 0.04 },
];
const circuits = [
  { emfVolts: 350, ohms: 150, junctions: 1 },
  { emfVolts: 350, ohms: 20, junctions: 2 },
  { emfVolts: 9, ohms: 0.3, junctions: 2 },
];
const shares = [0, 0.3, 0.8, 0.97];

function average(law: RectifierLaw, circuit: (typeof circuits)[number], volts: number): [number, number] {
  const out = new Float64Array(2);
  averagePhase(reducePhase({ ...circuit, law, isOpposite: false }), volts, out);
  return [out[0]!, out[1]!];
}

test.each(laws)('agrees with adding up 40 000 instants of a $kind rectifier', (law) => {
  const out = new Float64Array(2);
  const instants = 40000;
  for (const circuit of circuits) {
    for (const share of shares) {
      const curve = reducePhase({ ...circuit, law, isOpposite: false });
      let sum = 0;
      for (let instant = 0; instant < instants; instant++) {
        const angle = -Math.PI / 2 + (Math.PI * (instant + 0.5)) / instants;
        phaseCurrent(curve, circuit.emfVolts * (Math.sin(angle) - share), out);
        sum += out[0]!;
      }
      const [amps] = average(law, circuit, share * circuit.emfVolts);
      // The sum's own error at the kink where conduction begins is about 1/instants².
      expect(Math.abs(amps / (sum / instants) - 1)).toBeLessThan(2e-7);
    }
  }
});

test.each(laws)('has the slope of its own $kind curve', (law) => {
  for (const circuit of circuits) {
    for (const share of shares.slice(1)) {
      const volts = share * circuit.emfVolts;
      const step = 1e-4 * (circuit.emfVolts - volts);
      const [above] = average(law, circuit, volts + step);
      const [below] = average(law, circuit, volts - step);
      const [, slope] = average(law, circuit, volts);
      // Central difference: error of order step², 1e-8 of the span, times the third derivative's share.
      expect(Math.abs((above - below) / (2 * step) / slope - 1)).toBeLessThan(1e-6);
    }
  }
});

test('conducts nothing above the peak and goes on straight below 0 V', () => {
  const [valve, circuit] = [laws[1]!, circuits[0]!];
  expect(average(valve, circuit, 350)).toEqual([0, 0]);
  const [atZero, slope] = average(valve, circuit, 0);
  const [below, slopeBelow] = average(valve, circuit, -10);
  expect(below).toBeCloseTo(atZero - 10 * slope, 12);
  expect(slopeBelow).toBe(slope);
});

test('takes two valves in series for one of less perveance, and parallel bulk resistance into account', () => {
  const one = average({ kind: 'valve', perveance: 1e-3 / 2 ** 1.5 }, circuits[0]!, 280);
  const two = average({ kind: 'valve', perveance: 1e-3 }, { ...circuits[0]!, junctions: 2 }, 280);
  expect(two[0]).toBeCloseTo(one[0], 15);
});
