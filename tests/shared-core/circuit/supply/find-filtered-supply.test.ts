import { describe, expect, test } from 'vitest';
import { findSupplies } from '../../../../shared-core/circuit/supply/find-supply.ts';
import type { RectifierLaw } from '../../../../shared-core/circuit/supply/rectifier-law.ts';
import type { SupplyWiring, WiredWinding } from '../../../../shared-core/circuit/supply/supply-wiring.ts';

const core = { volts: 230, ohms: 14, loadSiemens: 0, primaryOhms: 14 };
const valve: RectifierLaw = { kind: 'valve', perveance: 1.7085e-3 };
const silicon: RectifierLaw = { kind: 'semiconductor', saturationAmps: 1e-9, emission: 1.8, bulkOhms: 0.04 };

function winding(id: string, ...nets: readonly string[]): WiredWinding {
  return {
    id,
    pieces: nets.slice(1).map((to, index) => ({
      ...{ from: nets[index]!, to },
      piece: { emfVolts: 260, ratio: 1.13, ohms: 92 + index },
    })),
  };
}

function wire(parts: Partial<SupplyWiring>): SupplyWiring {
  return {
    ...{ core, flatTop: 0, hertz: 50, windings: [], rectifiers: [], capacitors: [], resistors: [] },
    otherNets: ['gnd', 'b1'],
    ...parts,
  };
}

function rectifier(id: string, anode: string, cathode: string, law = silicon) {
  return { id, anode, cathode, law };
}

function capacitor(id: string, one: string, other: string, farads = 47e-6) {
  return { id, nets: [one, other] as const, farads };
}

const choke = { id: 'L1', nets: ['x', 'b1'] as const, henries: 10, ohms: 120 };
const chokeInput = wire({
  windings: [winding('T1.ht', 'a', 'gnd', 'b')],
  rectifiers: [rectifier('V3-1', 'a', 'x', valve), rectifier('V3-2', 'b', 'x', valve)],
  capacitors: [capacitor('C1', 'b1', 'gnd')],
  chokes: [choke],
});

describe('choke input', () => {
  test('is recognised with the reservoir behind the choke', () => {
    const { supplies, notPredicted, idle } = findSupplies(chokeInput);
    expect([notPredicted, idle, supplies.length]).toEqual([[], [], 1]);
    expect(supplies[0]).toMatchObject({
      ...{ plus: 'x', minus: 'gnd', form: 'centre-tap', input: 'choke', choke, isPhaseMissing: false },
      ...{ reservoirs: ['C1'], reservoirFarads: 47e-6, replaced: ['V3-1', 'V3-2'] },
    });
  });

  test('is recognised with the choke in the minus lead of a bridge', () => {
    const { supplies } = findSupplies(
      wire({
        windings: [winding('T1.ht', 'a', 'b')],
        rectifiers: [
          rectifier('D1', 'a', 'b1'),
          rectifier('D2', 'b', 'b1'),
          rectifier('D3', 'x', 'a'),
          rectifier('D4', 'x', 'b'),
        ],
        capacitors: [capacitor('C1', 'b1', 'gnd')],
        chokes: [{ ...choke, nets: ['gnd', 'x'] }],
      }),
    );
    expect(supplies).toMatchObject([{ plus: 'b1', minus: 'x', form: 'bridge', input: 'choke' }]);
  });

  test('is capacitor input once a reservoir stands before the choke', () => {
    const found = findSupplies({
      ...chokeInput,
      capacitors: [...chokeInput.capacitors, capacitor('C0', 'x', 'gnd', 8e-6)],
    });
    expect(found.supplies).toMatchObject([
      { plus: 'x', minus: 'gnd', input: 'capacitor', reservoirs: ['C0'] },
    ]);
    // A stopper of a few nanofarads makes no reservoir.
    const quiet = [...chokeInput.capacitors, capacitor('C0', 'x', 'gnd', 10e-9)];
    expect(findSupplies({ ...chokeInput, capacitors: quiet }).supplies).toMatchObject([{ input: 'choke' }]);
  });

  test('is not predicted without a reservoir behind it, or with a load before it', () => {
    const bare = findSupplies({ ...chokeInput, capacitors: [] });
    expect([bare.supplies, bare.notPredicted.length > 0]).toEqual([[], true]);
    const loaded = findSupplies({ ...chokeInput, resistors: [{ id: 'R1', nets: ['x', 'gnd'], ohms: 22e3 }] });
    expect([loaded.supplies, loaded.notPredicted.length > 0]).toEqual([[], true]);
  });
});

describe('doublers', () => {
  test('a full-wave doubler is one supply with its middle', () => {
    const { supplies, notPredicted } = findSupplies(
      wire({
        windings: [winding('T1.lt', 'a', 'mid')],
        rectifiers: [rectifier('D1', 'a', 'b1'), rectifier('D2', 'gnd', 'a')],
        capacitors: [capacitor('C1', 'b1', 'mid'), capacitor('C2', 'mid', 'gnd', 32e-6)],
      }),
    );
    expect(notPredicted).toEqual([]);
    expect(supplies).toMatchObject([
      {
        ...{ plus: 'b1', minus: 'gnd', input: 'doubler', replaced: ['D1', 'D2'], reservoirs: ['C1', 'C2'] },
        doubler: { middle: 'mid', farads: [47e-6, 32e-6] },
      },
    ]);
  });

  const cascade = wire({
    windings: [winding('T1.lt', 'a', 'gnd')],
    rectifiers: [rectifier('D1', 'gnd', 'p'), rectifier('D2', 'p', 'b1')],
    capacitors: [capacitor('C1', 'p', 'a'), capacitor('C2', 'b1', 'gnd')],
  });

  test('a cascade doubler pumps through its series capacitor', () => {
    const { supplies, notPredicted } = findSupplies(cascade);
    expect(notPredicted).toEqual([]);
    expect(supplies).toMatchObject([
      {
        ...{ plus: 'b1', minus: 'gnd', input: 'pump', replaced: ['D1', 'D2'], reservoirs: ['C2'] },
        ...{ pump: { id: 'C1', farads: 47e-6 }, insideNets: ['p'] },
      },
    ]);
  });

  test('unlike rectifiers in it are not predicted', () => {
    const rectifiers = [rectifier('D1', 'gnd', 'p'), rectifier('V1', 'p', 'b1', valve)];
    const found = findSupplies({ ...cascade, rectifiers });
    expect([found.supplies, found.notPredicted.length > 0]).toEqual([[], true]);
  });

  test('a bias supply off the HT winding through a small capacitor stands beside the HT supply', () => {
    const { supplies, notPredicted } = findSupplies(
      wire({
        windings: [winding('T1.ht', 'a', 'gnd', 'b')],
        rectifiers: [
          rectifier('V3-1', 'a', 'b1', valve),
          rectifier('V3-2', 'b', 'b1', valve),
          rectifier('D1', 'p', 'gnd'),
          rectifier('D2', 'n', 'p'),
        ],
        capacitors: [
          capacitor('C1', 'b1', 'gnd'),
          capacitor('C2', 'q', 'p', 100e-9),
          capacitor('C3', 'gnd', 'n', 10e-6),
        ],
        resistors: [{ id: 'R1', nets: ['a', 'q'], ohms: 10e3 }],
      }),
    );
    expect(notPredicted).toEqual([]);
    expect(supplies.map(({ plus, minus, input }) => [plus, minus, input])).toEqual([
      ['b1', 'gnd', 'capacitor'],
      ['gnd', 'n', 'pump'],
    ]);
    expect(supplies[1]!.phases[0].ohms).toBeCloseTo(92 + 1.13 ** 2 * 14 + 10e3, 6);
  });
});
