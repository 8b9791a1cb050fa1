import { describe, expect, it } from 'vitest';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { asStated, chooseHeron } from './heron.ts';
import { smallKit } from './small-kit.ts';

const divider = halfWaveKit(
  [resistorOf('R1', 1e6, 'TS1.1', 'TS1.2'), resistorOf('R2', 1e6, 'TS1.2', 'TS1.8')],
  {
    readings: [
      { id: 'b1', at: 'b1', measure: 'dc volts', in: 'running' },
      { id: 'half', at: 'TS1.2', measure: 'dc volts', in: 'running' },
      { id: 'ground', at: 'TS1.8', measure: 'dc volts', in: 'running' },
      { id: 'lamp-b1', at: 'b1', measure: 'dc volts', in: 'lamp' },
      { id: 'r1-cold', at: 'b1', measure: 'ohms', in: 'cold' },
      { id: 'r2-cold', at: 'TS1.2', measure: 'ohms', in: 'cold' },
      { id: 'primary', at: 'inlet.line', against: 'inlet.neutral', measure: 'ohms', in: 'cold' },
      { id: 'apart', at: 'inlet.line', against: 'chassis', measure: 'ohms', in: 'cold' },
      {
        id: 'stated',
        at: 'inlet.earth',
        against: 'chassis',
        measure: 'ohms',
        in: 'cold',
        expect: { below: 0.3 },
      },
    ],
  },
);

function predict(kit = divider, condition = 'running', bench = plainBench) {
  const nominal = predictNominal(kit, condition, bench, asStated);
  if (!nominal) throw new Error(`no condition ${condition}`);
  const of = (id: string) => nominal.prediction.readings.find((reading) => reading.id === id);
  return { ...nominal, of };
}

describe('predictNominal', () => {
  it('puts the meter into the circuit: 10 MΩ across half of 1 MΩ + 1 MΩ', () => {
    const { prediction, of } = predict();
    const half = (prediction.netVolts['TS1.2'] ?? 0) * (10 / 10.5);
    // The supply's own resistance under the meter's 16 µA: some kilohms, below 1e-4 of the reading.
    expect(Math.abs((of('half')?.nominal ?? 0) / half - 1)).toBeLessThan(1e-4);
    expect(prediction.netVolts['TS1.2']).toBeGreaterThan(150);
  });

  it('takes the range that a builder would: 20 kΩ/V on 250 V is 5 MΩ', () => {
    const input = { kind: 'per-volt', ohmsPerVolt: 20e3 } as const;
    const { prediction, of } = predict(divider, 'running', {
      ...plainBench,
      meter: { ...plainBench.meter, input },
    });
    const half = (prediction.netVolts['TS1.2'] ?? 0) * (5 / 5.5);
    expect(Math.abs((of('half')?.nominal ?? 0) / half - 1)).toBeLessThan(1e-3);
  });

  it('reads nothing on the chassis and shows both probes', () => {
    const { of } = predict();
    expect(of('ground')?.nominal).toBe(0);
    expect(of('b1')?.probes.red).toBeGreaterThan(300);
    expect(of('b1')?.probes.black).toBe(0);
  });

  it('names the tag beside the probe that carries a dangerous voltage', () => {
    const { of } = predict();
    expect(of('half')?.neighbours.map(({ place }) => place)).toEqual(['TS1.1']);
  });

  it('predicts no band on the lamp, but a stop limit, and says why', () => {
    const { of } = predict(divider, 'lamp');
    const { predicted, nominal, why, stopAbove } = of('lamp-b1') ?? {};
    expect([predicted, nominal]).toEqual(['none', null]);
    expect(why).toContain('short');
    expect(stopAbove).toBeGreaterThan(330);
    expect(stopAbove).toBeLessThanOrEqual(450);
  });

  it('reads cold resistances, with the time the capacitor takes', () => {
    const { of } = predict(divider, 'cold');
    // Backwards: on its 4 MΩ range the meter sends 0.1 µA; the resistors and the reversed junction
    // (5 nA, N·kT/q = 46.56 mV) must share it at the voltage it shows.
    const volts = (of('r1-cold')?.nominal ?? 0) * 1e-7;
    const leakage = 5e-9 * (1 - Math.exp(-volts / 46.56e-3));
    expect((volts / 2e6 + leakage) / 1e-7).toBeCloseTo(1, 4);
    // 47 µF behind 1.9 MΩ: ln 100 time constants of what the meter shows.
    const expected = Math.log(100) * (of('r1-cold')?.nominal ?? 0) * 47e-6;
    expect((of('r1-cold')?.settleSeconds ?? 0) / expected).toBeCloseTo(1, 6);
    expect(of('primary')?.nominal).toBeCloseTo(10, 4);
    expect(of('apart')?.predicted).toBe('overload');
  });

  it('leaves a stated reading to its statement', () => {
    const { of } = predict(divider, 'cold');
    expect(of('stated')).toMatchObject({ source: 'stated', nominal: null, low: null, high: 0.3 });
  });

  it('says plainly what it cannot recognise', () => {
    const bare = smallKit({
      parts: [
        ...divider.parts.filter(({ id }) => id !== 'C1'),
        { ...resistorOf('R3', 1e4, 'TS1.1', 'TS1.8') },
      ],
      leads: divider.leads.map(({ from, to }) => [from, to] as const),
      nets: divider.nets,
      conditions: [{ id: 'running' }],
      readings: [{ id: 'b1', at: 'b1', measure: 'dc volts', in: 'running' }],
    });
    const { of } = predict(bare);
    expect(of('b1')?.predicted).toBe('none');
    expect(of('b1')?.why).toContain('reservoir');
  });
});

describe('predictNominal on Heron', { timeout: 60_000 }, () => {
  const { chosen } = chooseHeron();

  it('computes another type in a socket as what it is', () => {
    const ecc83 = predict(chosen).of('v1a-anode')?.nominal ?? 0;
    const swapped = predictNominal(chosen, 'running', plainBench, { measured: {}, valves: { V1: 'ECC82' } });
    const ecc82 = swapped?.prediction.readings.find(({ id }) => id === 'v1a-anode')?.nominal ?? 0;
    // An ECC82 with 1.5 kΩ in its cathode draws about 2 mA through 100 kΩ: the anode falls far.
    expect(ecc82).toBeLessThan(ecc83 - 50);
  });

  it('predicts nothing live round a type that the catalogue does not know', () => {
    const fitted = { measured: {}, valves: { V2: 'XY99' } };
    const strange = predictNominal(chosen, 'running', plainBench, fitted);
    const b1 = strange?.prediction.readings.find(({ id }) => id === 'b1-running');
    expect([b1?.predicted, b1?.nominal]).toEqual(['none', null]);
    expect(b1?.why).toBe('the type XY99 in V2 is not in the catalogue');
    expect(b1?.stopAbove).not.toBeNull();
  });

  it('keeps the current law and every part within its ratings', () => {
    for (const { id } of chosen.conditions) {
      const { prediction } = predict(chosen, id);
      expect(prediction.solve.converged).toBe(true);
      expect(prediction.solve.residualAmps).toBeLessThan(1e-11);
      for (const { part, what, percent } of prediction.ratings) {
        expect(percent, `${id} ${part} ${what}`).toBeLessThanOrEqual(100);
      }
    }
  });

  it('gives every live voltage reading a stop limit beyond its figure', () => {
    for (const condition of chosen.conditions.filter(({ supply }) => supply !== 'unplugged')) {
      for (const reading of predict(chosen, condition.id).prediction.readings) {
        if (reading.unit !== 'V') continue;
        expect(reading.stopAbove, reading.id).toBeGreaterThan(reading.nominal ?? 0);
      }
    }
  });

  it('rates a bleeder by V²/R at high mains', () => {
    const { prediction } = predict(chosen, 'rectifier');
    const bleeder = prediction.ratings.find(({ part, what }) => part === 'R3' && what === 'dissipation');
    const part = chosen.parts.find(({ id }) => id === 'R3');
    const ohms = part?.kind === 'resistor' ? part.ohms : 0;
    const volts = prediction.netVolts['b1'] ?? 0;
    // High mains is 10 % up, and the lightly loaded supply follows it.
    expect(bleeder?.value).toBeGreaterThan((volts * 1.095) ** 2 / ohms);
    expect(bleeder?.value).toBeLessThan((volts * 1.105) ** 2 / ohms);
  });
});
