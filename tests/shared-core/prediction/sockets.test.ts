import { describe, expect, it } from 'vitest';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import type { Place } from '../../../shared-core/kit/kit.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import {
  elementsIn,
  openCondition,
  solveCondition,
} from '../../../shared-core/prediction/condition-model.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { nominalWorld } from '../../../shared-core/prediction/world.ts';
import { halfWaveKit, resistorOf } from './half-wave-kit.ts';
import type { LoosePart } from './small-kit.ts';

function valveOf(id: string, type: string, base: string): LoosePart {
  return { kind: 'valve', id, type, socket: { base, gapFaces: 0, mounted: 'chassis' } };
}

/** A second transformer with one winding for the heaters. */
const heaterIron = (volts: number, centreTapped = false): LoosePart => ({
  ...{ kind: 'mains-transformer', id: 'T2', tolerance: { low: -0.03, high: 0.03 } },
  primary: { volts: 230, dcrOhms: 10 },
  windings: [{ name: 'heater', volts, centreTapped, amps: 4, dcrOhms: centreTapped ? [0.02, 0.02] : [0.04] }],
});

const heaterLeads: readonly (readonly [Place, Place])[] = [
  ['inlet.line', 'T2.primary.a'],
  ['inlet.neutral', 'T2.primary.b'],
];

/** A socket wired for one half of an ECC82: heater in parallel on 4 + 5 and 9. */
const wiredForEcc82 = halfWaveKit(
  [
    heaterIron(6.3),
    valveOf('V1', 'ECC82', 'B9A'),
    resistorOf('R1', 47e3, 'TS1.1', 'V1.6'),
    resistorOf('R2', 1e6, 'V1.7', 'TS1.8'),
    resistorOf('R3', 1500, 'V1.8', 'TS1.8'),
  ],
  {
    leads: [
      ...heaterLeads,
      ['T2.heater.a', 'V1.4'],
      ['V1.4', 'V1.5'],
      ['T2.heater.b', 'V1.9'],
      ['V1.9', 'TS1.8'],
    ],
    nets: { 'heater-a': 'V1.4', grid: 'V1.7', cathode: 'V1.8', anode: 'V1.6' },
    readings: [{ id: 'cathode', at: 'V1.8', measure: 'dc volts', in: 'running' }],
  },
);

function netsIn(kit: ChosenKit, type: string): Readonly<Record<string, readonly string[]>> {
  const condition = kit.conditions.find(({ id }) => id === 'running')!;
  const model = openCondition(kit, condition, plainBench, { measured: {}, valves: { V1: type } });
  const own = elementsIn(model, nominalWorld, 230).filter(({ id }) => id.startsWith('V1'));
  return Object.fromEntries(own.map(({ id, nets }) => [id, nets]));
}

function predict(kit: ChosenKit, type?: string) {
  const valves: Record<string, string> = type === undefined ? {} : { V1: type };
  return predictNominal(kit, 'running', plainBench, { measured: {}, valves })!;
}

describe('another valve in a socket', () => {
  it('computes an ECC82 where it was meant to be', () => {
    expect(netsIn(wiredForEcc82, 'ECC82')).toMatchObject({
      'V1.1': ['anode', 'grid', 'cathode'],
      'V1#heater1': ['heater-a', 'gnd'],
      'V1#heater2': ['heater-a', 'gnd'],
    });
    const [reading] = predict(wiredForEcc82).prediction.readings;
    expect(reading?.predicted).toBe('value');
    expect(reading?.nominal).toBeGreaterThan(3);
  });

  it('puts an E182CC with its anode on the heater line and its heater tap on the cathode', () => {
    expect(netsIn(wiredForEcc82, 'E182CC')).toMatchObject({
      // Anode 9, grid 7, cathode 6: the grid alone is where it should be.
      'V1.1': ['gnd', 'grid', 'anode'],
      'V1#heater1': ['heater-a', 'cathode'],
      'V1#heater2': ['heater-a', 'cathode'],
    });
  });

  it('leaves a 6N6P cold: both ends of its heater are on one net, its shield is on the heater line', () => {
    expect(netsIn(wiredForEcc82, '6N6P')).toEqual({});
  });

  it('says why nothing is predicted around a heater that is not fed', () => {
    for (const type of ['E182CC', '6N6P']) {
      const [reading] = predict(wiredForEcc82, type).prediction.readings;
      expect(reading?.predicted, type).toBe('none');
      expect(reading?.why, type).toContain('the heater of V1 gets');
    }
  });

  it('refuses a valve that does not go into the socket', () => {
    const [reading] = predict(wiredForEcc82, '7F7').prediction.readings;
    expect(reading?.predicted).toBe('none');
    expect(reading?.why).toContain('loctal');
  });
});

describe('a filament as cathode', () => {
  const kit = halfWaveKit(
    [
      heaterIron(2.5, true),
      valveOf('V1', '300B', 'UX4'),
      resistorOf('R1', 470, 'TS1.1', 'V1.2'),
      resistorOf('R2', 47e3, 'V1.3', 'TS1.8'),
      resistorOf('R3', 1000, 'T2.heater.ct', 'TS1.8'),
    ],
    {
      leads: [...heaterLeads, ['T2.heater.a', 'V1.1'], ['T2.heater.b', 'V1.4']],
      nets: { bias: 'T2.heater.ct', 'f-a': 'V1.1', 'f-b': 'V1.4' },
      readings: [{ id: 'bias', at: 'bias', measure: 'dc volts', in: 'running' }],
    },
  );

  it('stands at the electrical middle of the filament, where the hum of both ends cancels', () => {
    const condition = kit.conditions.find(({ id }) => id === 'running')!;
    const model = openCondition(kit, condition, plainBench, { measured: {}, valves: {} });
    const state = solveCondition(model, nominalWorld, 230);
    expect(state.converged).toBe(true);
    const amps = -state.solver.evaluateElement('V1').stamp.residuals[2]!;
    // Through each half filament (2.5 V / 1.2 A) and each half winding flows half of the cathode current.
    const above = (amps / 2) * (2.5 / 1.2 + 0.02);
    expect(state.volts('V1.0') - state.volts('bias')).toBeCloseTo(above, 6);
    expect(state.volts('bias')).toBeGreaterThan(30);
    const [one, other] = [state.mains.volts('f-a'), state.mains.volts('f-b')];
    expect(Math.abs(one - other)).toBeGreaterThan(4.5);
    expect(Math.abs(state.mains.volts('V1.0'))).toBeLessThan(1e-3);
  });

  it('reads its bias at the centre tap and rates its filament by both halves', () => {
    const { readings, ratings } = predict(kit).prediction;
    expect(readings[0]?.nominal).toBeGreaterThan(30);
    expect(ratings.find(({ part, what }) => part === 'V1' && what === 'heater')?.percent).toBeLessThan(100);
  });
});

describe('the stop limits of a heater', () => {
  it('are those of the hook-up in the socket: 12.6 V across two halves in series, 6.3 V in parallel', () => {
    const inSeries = halfWaveKit([heaterIron(12.6), valveOf('V1', 'ECC83', 'B9A')], {
      leads: [...heaterLeads, ['T2.heater.a', 'V1.4'], ['T2.heater.b', 'V1.5'], ['V1.5', 'TS1.8']],
      readings: [{ id: 'heater', at: 'V1.4', against: 'V1.5', measure: 'ac volts', in: 'running' }],
    });
    const parallel = halfWaveKit([heaterIron(6.3), valveOf('V1', 'ECC83', 'B9A')], {
      leads: [
        ...heaterLeads,
        ['T2.heater.a', 'V1.4'],
        ['V1.4', 'V1.5'],
        ['T2.heater.b', 'V1.9'],
        ['V1.9', 'TS1.8'],
      ],
      readings: [{ id: 'heater', at: 'V1.4', against: 'V1.9', measure: 'ac volts', in: 'running' }],
    });
    // ±15 %: receiving-valve practice.
    expect(predict(inSeries).prediction.readings[0]?.stopAbove).toBeCloseTo(12.6 * 1.15, 6);
    expect(predict(parallel).prediction.readings[0]?.stopAbove).toBeCloseTo(6.3 * 1.15, 6);
  });

  it('are those of the whole filament', () => {
    const kit = halfWaveKit([heaterIron(5), valveOf('V1', '300B', 'UX4')], {
      leads: [...heaterLeads, ['T2.heater.a', 'V1.1'], ['T2.heater.b', 'V1.4'], ['V1.4', 'TS1.8']],
      readings: [{ id: 'heater', at: 'V1.1', against: 'V1.4', measure: 'ac volts', in: 'running' }],
    });
    expect(predict(kit).prediction.readings[0]?.stopAbove).toBeCloseTo(5 * 1.15, 6);
  });
});

describe('a gas stabiliser', () => {
  /** OA2 with its supply on pin 1 and its load on pin 5, which are one inside. */
  const kit = (seriesOhms: number, farads?: number) =>
    halfWaveKit(
      [
        valveOf('V1', 'OA2', 'B7G'),
        resistorOf('R1', seriesOhms, 'TS1.1', 'V1.1'),
        resistorOf('R2', 150e3, 'V1.5', 'TS1.8'),
        ...(farads === undefined
          ? []
          : [
              {
                ...({ kind: 'capacitor', id: 'C2', type: 'film', farads, volts: 400 } as const),
                ...{ tolerance: { low: -0.1, high: 0.1 }, between: ['V1.5', 'TS1.8'] as const },
              },
            ]),
      ],
      {
        leads: [['V1.2', 'TS1.8']],
        nets: { held: 'V1.5' },
        readings: [{ id: 'held', at: 'held', measure: 'dc volts', in: 'running' }],
      },
    );
  const percentOf = (chosen: ChosenKit, what: string): number =>
    predict(chosen).prediction.ratings.find((rating) => rating.part === 'V1' && rating.what === what)
      ?.percent ?? Number.NaN;

  it('holds its voltage at both anode pins', () => {
    const [reading] = predict(kit(9e3)).prediction.readings;
    // 149 to 151 V from 5 to 30 mA, less the inner joint's 0.1 Ω.
    expect(Math.abs((reading?.nominal ?? 0) - 150)).toBeLessThan(1.1);
  });

  it('is inside its range of currents from low to high mains', () => {
    for (const what of ['most stabiliser current', 'least stabiliser current']) {
      expect(percentOf(kit(9e3), what), what).toBeLessThan(100);
    }
  });

  it('is refused above 30 mA, below 5 mA, and with more than 0.1 µF across it', () => {
    expect(percentOf(kit(4e3), 'most stabiliser current')).toBeGreaterThan(100);
    expect(percentOf(kit(33e3), 'least stabiliser current')).toBeGreaterThan(100);
    expect(percentOf(kit(9e3, 1e-6), 'capacitance across it')).toBeGreaterThan(100);
    expect(percentOf(kit(9e3, 47e-9), 'capacitance across it')).toBeLessThan(100);
  });

  it('stays dark where its supply does not reach the striking voltage', () => {
    const [reading] = predict(kit(200e3)).prediction.readings;
    // 330 V · 150/(200 + 150): a divider, no stabiliser.
    expect(reading?.nominal).toBeGreaterThan(130);
    expect(reading?.nominal).toBeLessThan(145);
    expect(percentOf(kit(200e3), 'least stabiliser current')).toBeGreaterThan(1000);
  });
});
