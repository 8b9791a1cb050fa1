import { describe, expect, test } from 'vitest';
import { findSupplies } from '../../../../shared-core/circuit/supply/find-supply.ts';
import type { RectifierLaw } from '../../../../shared-core/circuit/supply/rectifier-law.ts';
import type { SupplyWiring, WiredWinding } from '../../../../shared-core/circuit/supply/supply-wiring.ts';
import type { OpenPiece } from '../../../../shared-core/circuit/supply/transformer.ts';

const core = { volts: 230, ohms: 14, loadSiemens: 0, primaryOhms: 14 };
const valve: RectifierLaw = { kind: 'valve', perveance: 1.7085e-3 };
const diode: RectifierLaw = { kind: 'semiconductor', saturationAmps: 1e-9, emission: 1.8, bulkOhms: 0.04 };
const [halfA, halfB]: [OpenPiece, OpenPiece] = [
  { emfVolts: 260, ratio: 1.13, ohms: 92 },
  { emfVolts: 260, ratio: 1.13, ohms: 98 },
];

function tapped(a: string, ct: string, b: string): WiredWinding {
  return {
    id: 'T1.ht',
    pieces: [
      { from: a, to: ct, piece: halfA },
      { from: ct, to: b, piece: halfB },
    ],
  };
}

function plain(a: string, b: string): WiredWinding {
  return { id: 'T1.lt', pieces: [{ from: a, to: b, piece: { emfVolts: 12.6, ratio: 0.055, ohms: 0.5 } }] };
}

function wire(parts: Partial<SupplyWiring>): SupplyWiring {
  return {
    ...{ core, flatTop: 0, hertz: 50, windings: [], rectifiers: [], capacitors: [], resistors: [] },
    otherNets: ['gnd', 'b1'],
    ...parts,
  };
}

function rectifier(id: string, anode: string, cathode: string, law = valve) {
  return { id, anode, cathode, law };
}

const reservoir = { id: 'C1', nets: ['b1', 'gnd'] as const, farads: 47e-6 };
const centreTap = wire({
  windings: [tapped('a', 'gnd', 'b')],
  rectifiers: [rectifier('V3-1', 'a', 'b1'), rectifier('V3-2', 'b', 'b1')],
  capacitors: [reservoir],
});

describe('what is recognised', () => {
  test('a centre-tap supply with unequal halves as two different phases', () => {
    const { supplies, notPredicted, idle } = findSupplies(centreTap);
    expect([notPredicted, idle, supplies.length]).toEqual([[], [], 1]);
    const [supply] = supplies;
    expect(supply).toMatchObject({
      ...{ plus: 'b1', minus: 'gnd', form: 'centre-tap', isPhaseMissing: false, winding: 'T1.ht' },
      ...{ reservoirs: ['C1'], reservoirFarads: 47e-6, replaced: ['V3-1', 'V3-2'], insideNets: ['a', 'b'] },
    });
    const reflected = 1.13 ** 2 * 14;
    expect(supply!.phases.map((phase) => phase!.ohms)).toEqual([
      expect.closeTo(92 + reflected, 10),
      expect.closeTo(98 + reflected, 10),
    ]);
    expect(supply!.phases[0].emfVolts).toBeCloseTo(Math.SQRT2 * 1.13 * 230, 10);
    expect(supply!.phases.map((phase) => phase!.isOpposite)).toEqual([false, true]);
  });

  test('the same with one anode missing, and with a surge resistor in each anode', () => {
    const one = findSupplies({ ...centreTap, rectifiers: centreTap.rectifiers.slice(1) }).supplies[0]!;
    expect(one).toMatchObject({
      form: 'centre-tap',
      isPhaseMissing: true,
      phases: [{ isOpposite: true }, null],
    });
    const surge = findSupplies({
      ...centreTap,
      rectifiers: [rectifier('V3-1', 'a1', 'b1'), rectifier('V3-2', 'b2', 'b1')],
      resistors: [
        { id: 'R1', nets: ['a', 'a1'], ohms: 100 },
        { id: 'R2', nets: ['b2', 'b'], ohms: 47 },
      ],
    }).supplies[0]!;
    expect(surge.replaced).toEqual(['V3-1', 'R1', 'V3-2', 'R2']);
    const plainOhms = findSupplies(centreTap).supplies[0]!.phases.map((phase) => phase!.ohms);
    expect(surge.phases[0].ohms - plainOhms[0]!).toBeCloseTo(100, 10);
    expect(surge.phases[1]!.ohms - plainOhms[1]!).toBeCloseTo(47, 10);
  });

  test('a resistor common to both anodes, in front of the reservoir or in the centre tap', () => {
    const behind = findSupplies({
      ...centreTap,
      rectifiers: [rectifier('V3-1', 'a', 'k'), rectifier('V3-2', 'b', 'k')],
      resistors: [{ id: 'R1', nets: ['k', 'b1'], ohms: 22 }],
    }).supplies[0]!;
    const inTap = findSupplies({
      ...centreTap,
      windings: [tapped('a', 'ct', 'b')],
      resistors: [{ id: 'R1', nets: ['ct', 'gnd'], ohms: 22 }],
    }).supplies[0]!;
    for (const supply of [behind, inTap]) {
      expect(supply.form).toBe('centre-tap');
      expect(supply.phases[1]!.ohms).toBeCloseTo(98 + 1.13 ** 2 * 14 + 22, 10);
    }
  });

  test('a bridge, and a bridge with one diode open as half-wave in a bridge', () => {
    const bridge = wire({
      windings: [plain('a', 'b')],
      rectifiers: [
        rectifier('D1', 'a', 'b1', diode),
        rectifier('D2', 'b', 'b1', diode),
        rectifier('D3', 'gnd', 'a', diode),
        rectifier('D4', 'gnd', 'b', diode),
      ],
      capacitors: [reservoir],
    });
    const whole = findSupplies(bridge);
    expect([whole.notPredicted, whole.idle]).toEqual([[], []]);
    expect(whole.supplies[0]).toMatchObject({ form: 'bridge', phases: [{ junctions: 2 }, { junctions: 2 }] });
    const broken = findSupplies({ ...bridge, rectifiers: bridge.rectifiers.slice(1) });
    expect(broken.supplies[0]).toMatchObject({ form: 'bridge', isPhaseMissing: true });
    // D4 is left without a partner.
    expect([broken.idle, broken.notPredicted]).toEqual([['D4'], []]);
  });

  test('a bias supply off the same winding, plus on the grounded side, and says that they share', () => {
    const found = findSupplies({
      ...centreTap,
      rectifiers: [...centreTap.rectifiers, rectifier('D1', 'bias', 'tap', diode)],
      resistors: [{ id: 'R9', nets: ['a', 'tap'], ohms: 47000 }],
      capacitors: [reservoir, { id: 'C9', nets: ['gnd', 'bias'], farads: 22e-6 }],
    });
    expect(found.notPredicted).toEqual([]);
    const bias = found.supplies.find(({ minus }) => minus === 'bias')!;
    expect(bias).toMatchObject({ plus: 'gnd', replaced: ['D1', 'R9'], phases: [{ isOpposite: true }, null] });
    expect(bias.phases[0].ohms).toBeGreaterThan(47000);
    expect(bias.sharesWindingWith).toEqual(['b1 gnd']);
    expect(found.supplies).toHaveLength(2);
  });

  test('paralleled anodes as one of twice the perveance, beside a small capacitor and a filter', () => {
    const found = findSupplies(
      wire({
        windings: [plain('a', 'gnd')],
        rectifiers: [rectifier('V1-1', 'a', 'b1'), rectifier('V1-2', 'a', 'b1')],
        capacitors: [
          reservoir,
          { id: 'C2', nets: ['b2', 'gnd'], farads: 47e-6 },
          { id: 'C3', nets: ['a', 'b1'], farads: 10e-9 },
        ],
        resistors: [{ id: 'R1', nets: ['b1', 'b2'], ohms: 1000 }],
      }),
    );
    expect(found.supplies).toHaveLength(1);
    expect(found.supplies[0]).toMatchObject({
      ...{ form: 'half-wave', reservoirs: ['C1'], replaced: ['V1-1', 'V1-2'] },
      phases: [{ law: { kind: 'valve', perveance: 2 * 1.7085e-3 } }, null],
    });
  });
});

describe('what is not predicted, with the reason', () => {
  const reasons = (wiring: SupplyWiring) => findSupplies(wiring).notPredicted.map(({ reason }) => reason);

  test('a choke in front of the reservoir', () => {
    const wiring: SupplyWiring = {
      ...centreTap,
      rectifiers: [rectifier('V3-1', 'a', 'k'), rectifier('V3-2', 'b', 'k')],
      otherNets: ['gnd', 'k', 'b1'],
    };
    expect(findSupplies(wiring).supplies).toEqual([]);
    expect(reasons(wiring)).toEqual(['no-reservoir', 'no-reservoir']);
  });

  test('a load between winding and rectifier', () => {
    const resistors = [{ id: 'R1', nets: ['a', 'gnd'] as const, ohms: 10e3 }];
    const found = findSupplies({ ...centreTap, resistors });
    expect(found.notPredicted).toMatchObject([{ reason: 'loaded-before-reservoir', rectifiers: ['V3-1'] }]);
    expect(reasons({ ...centreTap, resistors: [{ ...resistors[0]!, ohms: 470e3 }] })).toEqual([]);
  });

  test('a rectifier across the winding', () => {
    const wiring = {
      ...centreTap,
      rectifiers: [...centreTap.rectifiers, rectifier('D1', 'a', 'gnd', diode)],
    };
    expect(reasons(wiring)).toContain('winding-shorted');
    expect(findSupplies(wiring).supplies).toEqual([]);
  });

  test('unlike rectifiers in parallel, and two phases on the same half', () => {
    const mixed = { ...centreTap, rectifiers: [...centreTap.rectifiers, rectifier('D1', 'a', 'b1', diode)] };
    expect(reasons(mixed)).toEqual(['unlike-rectifiers']);
    const same = wire({
      windings: [plain('a', 'gnd')],
      rectifiers: [rectifier('V1-1', 'a1', 'b1'), rectifier('V1-2', 'a2', 'b1')],
      resistors: [
        { id: 'R1', nets: ['a', 'a1'], ohms: 100 },
        { id: 'R2', nets: ['a', 'a2'], ohms: 100 },
      ],
      capacitors: [reservoir],
    });
    expect(reasons(same).length).toBeGreaterThan(0);
    expect(findSupplies(same).supplies).toEqual([]);
  });
});

test('leaves a diode away from every winding alone', () => {
  const found = findSupplies({
    ...centreTap,
    rectifiers: [...centreTap.rectifiers, rectifier('D7', 'x', 'y', diode)],
  });
  expect([found.idle, found.notPredicted]).toEqual([['D7'], []]);
});
