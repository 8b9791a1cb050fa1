import type { RectifierLaw } from '../../../shared-core/circuit/supply/rectifier-law.ts';
import type { StatedTransformer } from '../../../shared-core/circuit/supply/transformer.ts';

/** A supply as a list of parts on nets: one description for our side and for the simulator. */
export interface IslandCase {
  readonly title: string;
  readonly mainsVolts: number;
  readonly hertz: number;
  readonly transformer: StatedTransformer;
  /** Nets of each winding's pieces, by winding: from and to. */
  readonly windings: Readonly<Record<string, readonly (readonly [string, string])[]>>;
  /** Anode and cathode of each rectifier. */
  readonly rectifiers: readonly (readonly [string, string, RectifierLaw])[];
  readonly capacitors: Readonly<Record<string, readonly [string, string, number]>>;
  /** Nets, henries and ohms. */
  readonly chokes: Readonly<Record<string, readonly [string, string, number, number]>>;
  readonly resistors: Readonly<Record<string, readonly [string, string, number]>>;
  /** Constant currents from one net to another, in amperes (A). */
  readonly loads: readonly (readonly [string, string, number])[];
  /** Nets whose mean is compared. */
  readonly outputs: readonly string[];
  readonly cycles: number;
}

export const ez81: RectifierLaw = { kind: 'valve', perveance: 1.7085e-3 };
export const gz34: RectifierLaw = { kind: 'valve', perveance: 3.96e-3 };
export const fiveY3: RectifierLaw = { kind: 'valve', perveance: 0.269e-3 };
export const silicon: RectifierLaw = {
  ...{ kind: 'semiconductor', saturationAmps: 1e-9, emission: 1.8, bulkOhms: 0.04 },
};
/** One HT winding on a 230 V primary. */
export function htTransformer(
  volts: number,
  amps: number,
  dcrOhms: readonly number[],
  centreTapped: boolean,
  primaryOhms = 14,
): StatedTransformer {
  return {
    primary: { volts: 230, dcrOhms: primaryOhms },
    windings: [{ name: 'ht', volts, amps, dcrOhms, centreTapped }],
  };
}

const base = {
  mainsVolts: 230,
  hertz: 50,
  capacitors: {},
  chokes: {},
  resistors: {},
  loads: [],
  outputs: ['b1'],
  cycles: 40,
} as const;

const tapped = { ht: [['a', 'gnd'] as const, ['gnd', 'b'] as const] };
const whole = { ht: [['a', 'b'] as const] };
const grounded = { ht: [['a', 'gnd'] as const] };

function centreTap(law: RectifierLaw, into: string): IslandCase['rectifiers'] {
  return [
    ['a', into, law],
    ['b', into, law],
  ];
}

function bridge(law: RectifierLaw, into: string): IslandCase['rectifiers'] {
  return [...centreTap(law, into), ['gnd', 'a', law], ['gnd', 'b', law]];
}

/** Choke input: valve and semiconductor, centre-tap and bridge, above and below the critical current. */
export const chokeCases: readonly IslandCase[] = [
  {
    title: 'GZ34, 10 H, heavy load',
    ...base,
    transformer: htTransformer(400, 0.25, [45, 47], true, 6),
    windings: tapped,
    rectifiers: centreTap(gz34, 'x'),
    capacitors: { C1: ['b1', 'gnd', 47e-6] },
    chokes: { L1: ['x', 'b1', 10, 120] },
    resistors: { RL: ['b1', 'gnd', 2200] },
  },
  {
    title: 'GZ34, 10 H, bleeder only: the current ceases',
    ...base,
    transformer: htTransformer(400, 0.25, [45, 47], true, 6),
    windings: tapped,
    rectifiers: centreTap(gz34, 'x'),
    capacitors: { C1: ['b1', 'gnd', 47e-6] },
    chokes: { L1: ['x', 'b1', 10, 120] },
    resistors: { RL: ['b1', 'gnd', 47e3] },
  },
  {
    title: 'EZ81, 5 H, just below the critical current',
    ...base,
    transformer: htTransformer(300, 0.12, [92, 98], true),
    windings: tapped,
    rectifiers: centreTap(ez81, 'x'),
    capacitors: { C1: ['b1', 'gnd', 32e-6] },
    chokes: { L1: ['x', 'b1', 5, 200] },
    resistors: { RL: ['b1', 'gnd', 6200] },
  },
  {
    title: '5Y3, 12 H, very unequal halves, 60 Hz',
    ...base,
    hertz: 60,
    transformer: htTransformer(350, 0.125, [80, 140], true),
    windings: tapped,
    rectifiers: centreTap(fiveY3, 'x'),
    capacitors: { C1: ['b1', 'gnd', 16e-6] },
    chokes: { L1: ['x', 'b1', 12, 250] },
    resistors: { RL: ['b1', 'gnd', 3300] },
  },
  {
    title: 'silicon centre-tap, 5 H, second section',
    ...base,
    cycles: 60,
    transformer: htTransformer(350, 0.2, [45, 47], true, 6),
    windings: tapped,
    rectifiers: centreTap(silicon, 'x'),
    capacitors: { C1: ['b1', 'gnd', 47e-6], C2: ['b2', 'gnd', 47e-6] },
    chokes: { L1: ['x', 'b1', 5, 80] },
    resistors: { R1: ['b1', 'b2', 470], RL: ['b2', 'gnd', 3300] },
    outputs: ['b1', 'b2'],
  },
  {
    title: 'silicon bridge, 3 H, constant current',
    ...base,
    transformer: htTransformer(350, 0.15, [60], false),
    windings: whole,
    rectifiers: bridge(silicon, 'x'),
    capacitors: { C1: ['b1', 'gnd', 100e-6] },
    chokes: { L1: ['x', 'b1', 3, 60] },
    resistors: { RL: ['b1', 'gnd', 100e3] },
    loads: [['b1', 'gnd', 0.15]],
  },
  {
    title: 'silicon bridge, 3 H, light load: the current ceases',
    ...base,
    transformer: htTransformer(350, 0.15, [60], false),
    windings: whole,
    rectifiers: bridge(silicon, 'x'),
    capacitors: { C1: ['b1', 'gnd', 100e-6] },
    chokes: { L1: ['x', 'b1', 3, 60] },
    resistors: { RL: ['b1', 'gnd', 15e3] },
  },
  {
    title: 'EZ81 with one anode open: half-wave into the choke',
    ...base,
    transformer: htTransformer(300, 0.12, [92, 98], true),
    windings: tapped,
    rectifiers: [['a', 'x', ez81]],
    capacitors: { C1: ['b1', 'gnd', 47e-6] },
    chokes: { L1: ['x', 'b1', 10, 200] },
    resistors: { RL: ['b1', 'gnd', 4700] },
  },
  {
    title: 'silicon bridge, choke in the minus lead',
    ...base,
    transformer: htTransformer(250, 0.15, [50], false),
    windings: whole,
    rectifiers: [
      ['a', 'b1', silicon],
      ['b', 'b1', silicon],
      ['x', 'a', silicon],
      ['x', 'b', silicon],
    ],
    capacitors: { C1: ['b1', 'gnd', 47e-6] },
    chokes: { L1: ['gnd', 'x', 4, 90] },
    resistors: { RL: ['b1', 'gnd', 2700] },
  },
];

/** Full-wave and cascade doublers, and bias supplies that a capacitor pumps. */
export const doublerCases: readonly IslandCase[] = [
  {
    title: 'full-wave doubler, silicon, 100 µF',
    ...base,
    transformer: htTransformer(120, 0.4, [8], false),
    windings: { ht: [['a', 'm']] },
    rectifiers: [
      ['a', 'b1', silicon],
      ['gnd', 'a', silicon],
    ],
    capacitors: { C1: ['b1', 'm', 100e-6], C2: ['m', 'gnd', 100e-6] },
    resistors: { RL: ['b1', 'gnd', 3300] },
    outputs: ['b1', 'm'],
  },
  {
    title: 'full-wave doubler, heavy load and small capacitors',
    ...base,
    transformer: htTransformer(120, 0.4, [8], false),
    windings: { ht: [['a', 'm']] },
    rectifiers: [
      ['a', 'b1', silicon],
      ['gnd', 'a', silicon],
    ],
    capacitors: { C1: ['b1', 'm', 47e-6], C2: ['m', 'gnd', 47e-6], C3: ['b2', 'gnd', 47e-6] },
    resistors: { R1: ['b1', 'b2', 100], RL: ['b2', 'gnd', 1800] },
    outputs: ['b1', 'm', 'b2'],
  },
  {
    title: 'full-wave doubler, EZ81 halves, unequal capacitors, bleeders',
    ...base,
    transformer: htTransformer(150, 0.2, [40], false),
    windings: { ht: [['a', 'm']] },
    rectifiers: [
      ['a', 'b1', ez81],
      ['gnd', 'a', ez81],
    ],
    capacitors: { C1: ['b1', 'm', 47e-6], C2: ['m', 'gnd', 32e-6] },
    resistors: { R1: ['b1', 'm', 100e3], R2: ['m', 'gnd', 82e3], RL: ['b1', 'gnd', 5600] },
    outputs: ['b1', 'm'],
  },
  {
    title: 'cascade doubler, silicon, 100 µF',
    ...base,
    transformer: htTransformer(120, 0.4, [8], false),
    windings: grounded,
    rectifiers: [
      ['gnd', 'p', silicon],
      ['p', 'b1', silicon],
    ],
    capacitors: { C1: ['p', 'a', 100e-6], C2: ['b1', 'gnd', 100e-6] },
    resistors: { RL: ['b1', 'gnd', 4700] },
  },
  {
    title: 'cascade doubler, heavy load, RC filter, 60 Hz',
    ...base,
    hertz: 60,
    transformer: htTransformer(120, 0.4, [8], false),
    windings: grounded,
    rectifiers: [
      ['gnd', 'p', silicon],
      ['p', 'b1', silicon],
    ],
    capacitors: { C1: ['p', 'a', 47e-6], C2: ['b1', 'gnd', 47e-6], C3: ['b2', 'gnd', 47e-6] },
    resistors: { R1: ['b1', 'b2', 220], RL: ['b2', 'gnd', 2200] },
    outputs: ['b1', 'b2'],
  },
  {
    title: 'cascade doubler, EZ81 halves, winding to the plus side of the pump',
    ...base,
    transformer: htTransformer(150, 0.2, [40], false),
    windings: grounded,
    rectifiers: [
      ['p', 'gnd', ez81],
      ['n', 'p', ez81],
    ],
    capacitors: { C1: ['a', 'p', 47e-6], C2: ['gnd', 'n', 47e-6] },
    resistors: { RL: ['n', 'gnd', 6800] },
    outputs: ['n'],
  },
  {
    title: 'bias off the HT winding through 100 nF',
    ...base,
    cycles: 100,
    transformer: htTransformer(300, 0.2, [92, 98], true),
    windings: tapped,
    rectifiers: [
      ['p', 'gnd', silicon],
      ['n', 'p', silicon],
    ],
    capacitors: { C1: ['a', 'p', 100e-9], C2: ['gnd', 'n', 10e-6] },
    resistors: { RL: ['n', 'gnd', 15e3] },
    outputs: ['n'],
  },
  {
    title: 'bias off the HT winding through 220 nF and 10 kΩ, light load',
    ...base,
    cycles: 100,
    transformer: htTransformer(300, 0.2, [92, 98], true),
    windings: tapped,
    rectifiers: [
      ['p', 'gnd', silicon],
      ['n', 'p', silicon],
    ],
    capacitors: { C1: ['q', 'p', 220e-9], C2: ['gnd', 'n', 4.7e-6] },
    resistors: { R1: ['a', 'q', 10e3], RL: ['n', 'gnd', 100e3] },
    outputs: ['n'],
  },
];

/** Two supplies on one transformer: the pulses of each take from the other's EMF. */
export const sharingCases: readonly IslandCase[] = [
  {
    title: 'silicon HT bridge and silicon heater bridge',
    ...base,
    transformer: {
      primary: { volts: 230, dcrOhms: 14 },
      windings: [
        { name: 'ht', volts: 200, amps: 0.15, dcrOhms: [40], centreTapped: false },
        { name: 'lt', volts: 12, amps: 1.5, dcrOhms: [0.35], centreTapped: false },
      ],
    },
    windings: { ht: [['a', 'b']], lt: [['c', 'd']] },
    rectifiers: [
      ...bridge(silicon, 'b1'),
      ['c', 'h1', silicon],
      ['d', 'h1', silicon],
      ['gnd', 'c', silicon],
      ['gnd', 'd', silicon],
    ],
    capacitors: { C1: ['b1', 'gnd', 47e-6], C2: ['h1', 'gnd', 4700e-6] },
    resistors: { RL: ['b1', 'gnd', 3300], RH: ['h1', 'gnd', 15] },
    outputs: ['b1', 'h1'],
  },
  {
    title: 'EZ81 HT and a bias supply off one half through a dropper',
    ...base,
    cycles: 100,
    transformer: htTransformer(300, 0.15, [92, 98], true),
    windings: tapped,
    rectifiers: [...centreTap(ez81, 'b1'), ['n', 'q', silicon]],
    capacitors: { C1: ['b1', 'gnd', 47e-6], C2: ['gnd', 'n', 22e-6] },
    resistors: { RL: ['b1', 'gnd', 3900], RD: ['q', 'a', 15e3], RN: ['n', 'gnd', 22e3] },
    outputs: ['b1', 'n'],
  },
  {
    title: 'EZ81 HT and a bias supply off a tap of one half, 60 V from the centre',
    ...base,
    cycles: 100,
    transformer: {
      primary: { volts: 230, dcrOhms: 14 },
      windings: [{ name: 'ht', volts: 300, amps: 0.15, dcrOhms: [92, 98], centreTapped: true, tapVolts: 60 }],
    },
    windings: {
      ht: [
        ['a', 't'],
        ['t', 'gnd'],
        ['gnd', 'b'],
      ],
    },
    rectifiers: [...centreTap(ez81, 'b1'), ['n', 't', silicon]],
    capacitors: { C1: ['b1', 'gnd', 47e-6], C2: ['gnd', 'n', 100e-6] },
    resistors: { RL: ['b1', 'gnd', 3900], RN: ['n', 'gnd', 5.6e3] },
    outputs: ['b1', 'n'],
  },
];

export const chokeSharingCases: readonly IslandCase[] = [
  {
    title: 'GZ34 into 10 H and a silicon half-wave bias supply on a winding of its own',
    ...base,
    transformer: {
      primary: { volts: 230, dcrOhms: 5.5 },
      windings: [
        { name: 'ht', volts: 430, amps: 0.2, dcrOhms: [58, 62], centreTapped: true },
        { name: 'bias', volts: 50, amps: 0.08, dcrOhms: [22], centreTapped: false },
      ],
    },
    windings: { ...tapped, bias: [['c', 'gnd']] },
    rectifiers: [...centreTap(gz34, 'x'), ['n', 'c', silicon]],
    capacitors: { C1: ['b1', 'gnd', 20e-6], C2: ['gnd', 'n', 220e-6] },
    chokes: { L1: ['x', 'b1', 10, 60] },
    resistors: { RL: ['b1', 'gnd', 2200], RN: ['n', 'gnd', 4.5e3] },
    // The supply that was found first: capacitor inputs come before chokes.
    outputs: ['n', 'b1'],
    cycles: 60,
  },
];
