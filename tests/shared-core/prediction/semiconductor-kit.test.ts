import { describe, expect, test } from 'vitest';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { findStores } from '../../../shared-core/prediction/stores.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import { type LoosePart, smallKit } from './small-kit.ts';

const five = { low: -0.05, high: 0.05 };
const fitted = { valves: {}, measured: {} };

function run(chosen: ChosenKit) {
  const bench = nominalBench(chosen);
  const found = predictNominal(chosen, 'running', bench, fitted)!;
  expect(found.state.converged).toBe(true);
  const value = (id: string): number => {
    const reading = found.prediction.readings.find((each) => each.id === id)!;
    expect(reading.why).toBeNull();
    return reading.nominal!;
  };
  return { ...found, bench, value };
}

function diode(id: string, anode: string, cathode: string): LoosePart {
  return { kind: 'diode', id, type: '1N4007', reverseVolts: 1000, amps: 1, between: [anode, cathode] };
}

function capacitor(id: string, plus: string, minus: string, farads = 47e-6): LoosePart {
  return {
    ...{ kind: 'capacitor', id, type: 'electrolytic', farads, volts: 450 },
    ...{ tolerance: { low: -0.2, high: 0.5 }, between: [plus, minus] },
  };
}

const front: readonly LoosePart[] = [
  { kind: 'mains-inlet', id: 'X1' },
  { kind: 'tag-strip', id: 'TS1', tags: 9, earthed: [8] },
];

function mains(volts: number, centreTapped: boolean): LoosePart {
  return {
    ...{ kind: 'mains-transformer', id: 'T1', tolerance: { low: -0.03, high: 0.03 } },
    primary: { volts: 230, dcrOhms: 10 },
    windings: [{ name: 'ht', volts, centreTapped, amps: 0.1, dcrOhms: centreTapped ? [60, 66] : [20] }],
  };
}

const plug = [
  ['inlet.line', 'T1.primary.a'],
  ['inlet.neutral', 'T1.primary.b'],
  ['inlet.earth', 'chassis'],
] as const;
const running = { conditions: [{ id: 'cold', supply: 'unplugged' as const }, { id: 'running' }] };

describe('supplies of a kit', () => {
  test('choke input: 0.9 of the winding less the drops, and twice the crest in reverse', () => {
    const { value, prediction } = run(
      smallKit({
        ...running,
        parts: [
          ...front,
          mains(300, true),
          diode('D1', 'T1.ht.a', 'TS1.1'),
          diode('D2', 'T1.ht.b', 'TS1.1'),
          {
            ...{ kind: 'choke', id: 'L1', henries: 10, dcrOhms: 150, tolerance: five, maxAmps: 0.15 },
            between: ['TS1.1', 'TS1.2'],
          },
          capacitor('C1', 'TS1.2', 'TS1.8'),
          resistorOf('R1', 3300, 'TS1.2', 'TS1.8'),
        ],
        leads: [...plug, ['T1.ht.ct', 'TS1.8']],
        nets: { gnd: 'TS1.8', b1: 'TS1.2' },
        readings: [
          { id: 'b1', at: 'TS1.2', measure: 'dc volts', in: 'running' },
          { id: 'x', at: 'TS1.1', measure: 'dc volts', in: 'running' },
        ],
      }),
    );
    const open = 300 + (0.1 * (60 + 66)) / 2;
    const amps = value('b1') / 3300;
    expect(value('b1')).toBeGreaterThan(0.85 * open - amps * (150 + 100));
    expect(value('b1')).toBeLessThan(0.9003 * open * 1.05 - amps * 150);
    expect(value('x') - value('b1')).toBeCloseTo(150 * amps, 2);
    const reverse = prediction.ratings.find(
      ({ part, what }) => part === 'D1' && what === 'peak inverse voltage',
    )!;
    expect(reverse.value / (2 * Math.SQRT2 * open)).toBeCloseTo(1, 0);
    expect(reverse.value).toBeGreaterThan(1.9 * Math.SQRT2 * open);
  });

  test('full-wave doubler: each half near the crest, the whole near twice', () => {
    const chosen = smallKit({
      ...running,
      parts: [
        ...front,
        mains(120, false),
        diode('D1', 'T1.ht.a', 'TS1.1'),
        diode('D2', 'TS1.8', 'T1.ht.a'),
        capacitor('C1', 'TS1.1', 'TS1.2', 100e-6),
        capacitor('C2', 'TS1.2', 'TS1.8', 100e-6),
        resistorOf('R1', 22e3, 'TS1.1', 'TS1.8'),
      ],
      leads: [...plug, ['T1.ht.b', 'TS1.2']],
      nets: { gnd: 'TS1.8', b1: 'TS1.1' },
      readings: [
        { id: 'b1', at: 'TS1.1', measure: 'dc volts', in: 'running' },
        { id: 'mid', at: 'TS1.2', measure: 'dc volts', in: 'running' },
      ],
    });
    const { value, bench } = run(chosen);
    expect(value('b1')).toBeGreaterThan(2 * 120 * Math.SQRT2 * 0.93);
    expect(value('b1') / value('mid')).toBeCloseTo(2, 2);
    const stores = findStores(chosen, bench, fitted).map(({ part, volts }) => [part.id, volts] as const);
    expect(stores.map(([id]) => id)).toEqual(['C1', 'C2']);
  });

  test('the pumping capacitor of a cascade doubler is a store of its own', () => {
    const chosen = smallKit({
      ...running,
      parts: [
        ...front,
        mains(120, false),
        diode('D1', 'TS1.8', 'TS1.3'),
        diode('D2', 'TS1.3', 'TS1.1'),
        capacitor('C1', 'TS1.3', 'T1.ht.a', 100e-6),
        capacitor('C2', 'TS1.1', 'TS1.8', 100e-6),
        resistorOf('R1', 22e3, 'TS1.1', 'TS1.8'),
      ],
      leads: [...plug, ['T1.ht.b', 'TS1.8']],
      nets: { gnd: 'TS1.8', b1: 'TS1.1' },
      readings: [{ id: 'b1', at: 'TS1.1', measure: 'dc volts', in: 'running' }],
    });
    const { value, bench } = run(chosen);
    expect(value('b1')).toBeGreaterThan(2 * 120 * Math.SQRT2 * 0.9);
    const stores = findStores(chosen, bench, fitted);
    expect(stores.map(({ part }) => part.id).sort()).toEqual(['C1', 'C2']);
    expect(stores.find(({ part }) => part.id === 'C1')!.volts).toBeGreaterThan(120 * Math.SQRT2 * 0.98);
  });
});

describe('semiconductors of a kit', () => {
  const chosen = halfWaveKit(
    [
      resistorOf('R1', 22e3, 'TS1.1', 'TS1.2'),
      {
        ...{ kind: 'zener', id: 'D2', type: 'BZX85C47', volts: 47, amps: 5e-3, ohms: 80, watts: 1.3 },
        ...{ tolerance: five, between: ['TS1.8', 'TS1.2'] },
      },
      {
        ...{ kind: 'transistor', id: 'Q1', type: 'IRF820', polarity: 'n-channel', gain: null, watts: 20 },
        ...{ gate: { thresholdVolts: 3, volts: 5, amps: 1 }, tolerance: five, maxVolts: 500, maxAmps: 2 },
      },
      resistorOf('R2', 4700, 'TS1.3', 'TS1.8'),
      {
        ...{ kind: 'regulator', id: 'U1', type: 'LM317', polarity: 'positive', volts: 1.25, watts: 5 },
        ...{ tolerance: { low: -0.04, high: 0.04 }, dropoutVolts: 1.5, amps: 0.5, leastLoadAmps: 3.5e-3 },
        ...{ adjustAmps: 50e-6, maxVolts: 40 },
      },
      resistorOf('R3', 270, 'TS1.4', 'TS1.5'),
      resistorOf('R4', 2200, 'TS1.5', 'TS1.8'),
      {
        ...{ kind: 'led', id: 'D3', type: 'red', volts: 1.8, amps: 0.01, tolerance: five, maxAmps: 0.02 },
        between: ['TS1.6', 'TS1.8'],
      },
      resistorOf('R5', 4700, 'TS1.4', 'TS1.6'),
    ],
    {
      leads: [
        ['Q1.g', 'TS1.2'],
        ['Q1.d', 'TS1.1'],
        ['Q1.s', 'TS1.3'],
        ['U1.in', 'TS1.3'],
        ['U1.out', 'TS1.4'],
        ['U1.adj', 'TS1.5'],
      ],
      readings: [
        { id: 'zener', at: 'TS1.2', measure: 'dc volts', in: 'running' },
        { id: 'source', at: 'TS1.3', measure: 'dc volts', in: 'running' },
        { id: 'regulated', at: 'TS1.4', measure: 'dc volts', in: 'running' },
        { id: 'led', at: 'TS1.6', measure: 'dc volts', in: 'running' },
      ],
    },
  );
  const { value, prediction } = run(chosen);

  test('each stands where its figures put it', () => {
    // 13 mA instead of the 5 mA of the test: 80 Ω more or less.
    expect(value('zener')).toBeGreaterThan(47);
    expect(value('zener')).toBeLessThan(47 + 80 * 0.01);
    expect(value('zener') - value('source')).toBeGreaterThan(3);
    expect(value('zener') - value('source')).toBeLessThan(3.6);
    expect(value('regulated')).toBeCloseTo(1.25 * (1 + 2200 / 270) + 50e-6 * 2200, 1);
    expect(value('led')).toBeGreaterThan(1.6);
    expect(value('led')).toBeLessThan(1.8);
  });

  test('each is rated', () => {
    const rated = (part: string) =>
      prediction.ratings.filter((figure) => figure.part === part).map(({ what }) => what);
    expect(rated('D2')).toEqual(['dissipation']);
    expect(rated('D3')).toEqual(['current', 'reverse voltage']);
    expect(rated('Q1')).toEqual(['dissipation', 'current', 'voltage', 'gate voltage']);
    expect(rated('U1')).toEqual(['dissipation', 'current', 'voltage']);
    const watts = prediction.ratings.find(({ part, what }) => part === 'Q1' && what === 'dissipation')!;
    // All that the supply gives beyond the Zener chain goes through it, with nearly the whole voltage across.
    expect(watts.value).toBeGreaterThan(3);
    expect(watts.value).toBeLessThan(8);
  });
});
