import { describe, expect, it } from 'vitest';
import type { ChosenKit } from '../../../shared-core/kit/chosen-kit.ts';
import { plainBench } from '../../../shared-core/prediction/bench.ts';
import { openCondition, solveCondition } from '../../../shared-core/prediction/condition-model.ts';
import { nominalBench } from '../../../shared-core/prediction/nominal-bench.ts';
import { predictNominal } from '../../../shared-core/prediction/predict-condition.ts';
import { nominalWorld } from '../../../shared-core/prediction/world.ts';
import { mainsSideNets } from '../../../shared-core/safety/derive-nets.ts';
import { asStated } from './heron.ts';
import { type LoosePart, smallKit } from './small-kit.ts';

const three = { low: -0.03, high: 0.03 };

/** A primary for 230 V with taps for 220 and 240 V, the line on one of its ends, the neutral on another. */
function kitOn(line: string, neutral = 'primary.a', parts: readonly LoosePart[] = []): ChosenKit {
  return smallKit({
    parts: [
      { kind: 'mains-inlet', id: 'X1' },
      {
        ...{ kind: 'mains-transformer', id: 'T1', tolerance: three },
        primary: { volts: 230, dcrOhms: 23, taps: [220, 240] },
        windings: [
          { name: 'ht', volts: 300, centreTapped: true, amps: 0.1, dcrOhms: [90, 90], tapVolts: 60 },
          { name: 'heater', volts: 6.3, centreTapped: false, amps: 3, dcrOhms: [0.1] },
        ],
      },
      { kind: 'tag-strip', id: 'TS1', tags: 8, earthed: [8] },
      ...parts,
    ],
    leads: [
      ['inlet.line', `T1.${line}`],
      ['inlet.neutral', `T1.${neutral}`],
      ['inlet.earth', 'chassis'],
      ['T1.ht.a', 'TS1.1'],
      ['T1.ht.tap', 'TS1.2'],
      ['T1.ht.ct', 'TS1.8'],
      ['T1.ht.b', 'TS1.3'],
      ['T1.heater.a', 'TS1.4'],
      ['T1.heater.b', 'TS1.8'],
    ],
    nets: { gnd: 'TS1.8' },
    conditions: [{ id: 'cold', supply: 'unplugged' }, { id: 'running' }],
    readings: [
      { id: 'half-1', at: 'TS1.1', measure: 'ac volts', in: 'running' },
      { id: 'tap', at: 'TS1.2', measure: 'ac volts', in: 'running' },
      { id: 'half-2', at: 'TS1.3', measure: 'ac volts', in: 'running' },
      { id: 'heater', at: 'TS1.4', measure: 'ac volts', in: 'running' },
      { id: 'primary', at: 'inlet.line', against: 'inlet.neutral', measure: 'ohms', in: 'cold' },
      { id: 'to-240', at: 'T1.primary.240', against: 'inlet.neutral', measure: 'ohms', in: 'cold' },
      { id: 'half-cold', at: 'TS1.1', measure: 'ohms', in: 'cold' },
      { id: 'tap-cold', at: 'TS1.2', measure: 'ohms', in: 'cold' },
    ],
  });
}

function read(kit: ChosenKit, condition: string): Readonly<Record<string, number>> {
  const { prediction } = predictNominal(kit, condition, plainBench, asStated)!;
  return Object.fromEntries(prediction.readings.map(({ id, nominal }) => [id, nominal ?? NaN]));
}

describe('a tapped primary', () => {
  const at230 = read(kitOn('primary.b'), 'running');

  it('gives every winding in inverse proportion to the turns that are on the mains', () => {
    // Nothing is loaded but by the meter: volts go as 230 V over those of the tap.
    for (const volts of [220, 240]) {
      const other = read(kitOn(`primary.${volts}`), 'running');
      for (const id of ['half-1', 'tap', 'half-2', 'heater']) {
        expect(other[id]! / at230[id]!, id).toBeCloseTo(230 / volts, 6);
      }
    }
    // 0.1 A · (2 · 300 V + 0.1 A · 180 Ω) + 3 A · (6.3 V + 0.3 V) = 81.6 W behind 23 Ω: 221.5 V; (300 + 9) / 221.5 · 230.
    const core = (230 + Math.sqrt(230 ** 2 - 4 * 23 * 81.6)) / 2;
    expect(at230['half-1']).toBeCloseTo((309 / core) * 230, 2);
  });

  it('computes a line on the wrong pair of ends as what it is', () => {
    // From 220 to 240 V there are 20 V of turns: ten times as many volts, and copper in proportion.
    const wrong = read(kitOn('primary.240', 'primary.220'), 'running');
    expect(wrong['heater']! / at230['heater']!).toBeCloseTo(230 / 20, 4);
    expect(read(kitOn('primary.240', 'primary.220'), 'cold')['primary']).toBeCloseTo((23 * 20) / 230, 6);
  });

  it('shows the copper of each section cold', () => {
    const cold = read(kitOn('primary.220'), 'cold');
    expect(cold['primary']).toBeCloseTo((23 * 220) / 230, 6);
    expect(cold['to-240']).toBeCloseTo((23 * 240) / 230, 6);
    expect(cold['half-cold']).toBeCloseTo(90, 6);
    expect(cold['tap-cold']).toBeCloseTo((90 * 60) / 300, 6);
  });

  it('takes the mains of the tap that is wired for the nominal one', () => {
    expect(nominalBench(kitOn('primary.240')).mains).toMatchObject({ volts: 240, hertz: 50 });
    expect(nominalBench(kitOn('primary.b')).mains.volts).toBe(230);
  });

  it('counts taps that are not used to the mains side', () => {
    expect(mainsSideNets(kitOn('primary.b'))).toContain('T1.primary.240');
  });
});

describe('a tap of the high-tension winding', () => {
  it('stands at its part of the half', () => {
    const volts = read(kitOn('primary.b'), 'running');
    expect(volts['tap']! / volts['half-1']!).toBeCloseTo(60 / 300, 6);
  });

  it('feeds a negative supply while both halves feed the positive one', () => {
    const diode = { kind: 'diode', type: '1N4007', reverseVolts: 1000, amps: 1 } as const;
    const film = { kind: 'capacitor', type: 'electrolytic', tolerance: three, volts: 450 } as const;
    const resistor = { kind: 'resistor', tolerance: three, watts: 5 } as const;
    const kit = kitOn('primary.b', 'primary.a', [
      { ...diode, id: 'D1', between: ['TS1.1', 'TS1.5'] },
      { ...diode, id: 'D2', between: ['TS1.3', 'TS1.5'] },
      { ...diode, id: 'D3', between: ['TS1.6', 'TS1.2'] },
      { ...film, id: 'C1', farads: 47e-6, between: ['TS1.5', 'TS1.8'] },
      { ...film, id: 'C2', farads: 100e-6, between: ['TS1.8', 'TS1.6'] },
      { ...resistor, id: 'R1', ohms: 5e3, between: ['TS1.5', 'TS1.8'] },
      { ...resistor, id: 'R2', ohms: 10e3, between: ['TS1.6', 'TS1.8'] },
    ]);
    const condition = kit.conditions.find(({ id }) => id === 'running')!;
    const state = solveCondition(openCondition(kit, condition, plainBench, asStated), nominalWorld, 230);
    const { netAt } = state.model.context.wiring;
    const pieces = state.supplies.found.map(({ windings }) => windings.map((own) => [...own].sort()));
    expect(pieces).toContainEqual([['T1.ht.1', 'T1.ht.2'], ['T1.ht.3']]);
    expect(pieces).toContainEqual([['T1.ht.2']]);
    expect(pieces).toHaveLength(2);
    // Above the peak without load nothing stands, and half of it is left with any load that a supply bears.
    const peak = Math.SQRT2 * at230Half;
    expect(state.volts(netAt('TS1.5'))).toBeLessThan(peak);
    expect(state.volts(netAt('TS1.5'))).toBeGreaterThan(0.7 * peak);
    expect(-state.volts(netAt('TS1.6'))).toBeLessThan(peak / 5);
    expect(-state.volts(netAt('TS1.6'))).toBeGreaterThan((0.7 * peak) / 5);
  });
});

/** A half unloaded, in volts rms (V): the sum of the first test. */
const at230Half = (309 / ((230 + Math.sqrt(230 ** 2 - 4 * 23 * 81.6)) / 2)) * 230;
