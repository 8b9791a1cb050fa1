import type { RectifierLaw } from '../../../shared-core/circuit/supply/rectifier-law.ts';
import type { StatedTransformer } from '../../../shared-core/circuit/supply/transformer.ts';

/** A whole supply: transformer, rectifiers, reservoir, RC filter and load, as a kit would state it. */
export interface SupplyCase {
  readonly title: string;
  readonly mainsVolts: number;
  readonly hertz: number;
  readonly transformer: StatedTransformer;
  /** Whole-winding loads in ohms (Ω) by winding name. */
  readonly heaters: Readonly<Record<string, number>>;
  readonly form: 'half-wave' | 'centre-tap' | 'bridge';
  readonly law: RectifierLaw;
  /** In each anode, in ohms (Ω). */
  readonly surgeOhms: number;
  readonly farads: number;
  /** Filter resistor and second capacitor, then the load: a resistor and a constant current. */
  readonly filterOhms: number;
  /** Choke in series with the filter resistor, in henries (H); 0 for none. */
  readonly filterHenries: number;
  readonly filterFarads: number;
  readonly loadOhms: number;
  readonly loadAmps: number;
}

const ez81: RectifierLaw = { kind: 'valve', perveance: 1.7085e-3 };
const ez80: RectifierLaw = { kind: 'valve', perveance: 0.729e-3 };
const gz34: RectifierLaw = { kind: 'valve', perveance: 3.96e-3 };
const fiveY3: RectifierLaw = { kind: 'valve', perveance: 0.269e-3 };
/** About a 1N4007: 0.7 V at 10 mA, 0.9 V at 1 A. */
const silicon: RectifierLaw = { kind: 'semiconductor', saturationAmps: 1e-9, emission: 1.8, bulkOhms: 0.04 };
const schottky: RectifierLaw = {
  kind: 'semiconductor',
  saturationAmps: 1e-7,
  emission: 1.05,
  bulkOhms: 0.05,
};

function transformer(
  volts: number,
  amps: number,
  dcrOhms: readonly number[],
  centreTapped: boolean,
  heaterAmps: number,
  primaryVolts = 230,
  primaryOhms = 14,
): StatedTransformer {
  return {
    primary: { volts: primaryVolts, dcrOhms: primaryOhms },
    windings: [
      { name: 'ht', volts, amps, dcrOhms, centreTapped },
      { name: 'heater', volts: 6.3, amps: heaterAmps, dcrOhms: [0.09], centreTapped: false },
    ],
  };
}

const plain = {
  mainsVolts: 230,
  hertz: 50,
  heaters: {},
  surgeOhms: 0,
  filterOhms: 1000,
  filterHenries: 0,
  filterFarads: 47e-6,
  loadAmps: 0,
} as const;

const single = transformer(250, 0.1, [92, 98], true, 3);
const large = transformer(300, 0.25, [45, 47], true, 6, 230, 6);
const whole = transformer(200, 0.15, [40], false, 2);
const low = transformer(12, 1.5, [0.35], false, 0.1);

const valveCases: readonly SupplyCase[] = [
  {
    title: 'EZ81, unequal halves, heaters share the primary',
    ...plain,
    transformer: single,
    heaters: { heater: 2.1 },
    form: 'centre-tap',
    law: ez81,
    farads: 47e-6,
    loadOhms: 4700,
    loadAmps: 0.01,
  },
  {
    title: 'EZ81, bleeder only',
    ...plain,
    transformer: single,
    heaters: { heater: 6.3 },
    form: 'centre-tap',
    law: ez81,
    farads: 47e-6,
    loadOhms: 150e3,
  },
  {
    title: 'EZ81, small reservoir',
    ...plain,
    transformer: single,
    heaters: { heater: 2.1 },
    form: 'centre-tap',
    law: ez81,
    farads: 8e-6,
    filterOhms: 470,
    loadOhms: 4000,
  },
  {
    title: 'EZ81, very unequal halves',
    ...plain,
    transformer: transformer(250, 0.1, [60, 180], true, 3),
    form: 'centre-tap',
    law: ez81,
    farads: 32e-6,
    loadOhms: 3300,
  },
  {
    title: 'EZ81, 120 V 60 Hz, low mains, surge resistors',
    ...plain,
    mainsVolts: 114,
    hertz: 60,
    transformer: transformer(250, 0.1, [92, 98], true, 3, 120, 3.8),
    heaters: { heater: 2.1 },
    surgeOhms: 47,
    form: 'centre-tap',
    law: ez81,
    farads: 47e-6,
    loadOhms: 5000,
  },
  {
    title: 'EZ80, constant current',
    ...plain,
    transformer: single,
    form: 'centre-tap',
    law: ez80,
    farads: 50e-6,
    filterOhms: 100,
    filterFarads: 1e-6,
    loadOhms: 1e6,
    loadAmps: 0.08,
  },
  {
    title: 'EZ80, half-wave',
    ...plain,
    transformer: single,
    form: 'half-wave',
    law: ez80,
    farads: 32e-6,
    loadOhms: 8200,
  },
  {
    title: 'GZ34, heavy load',
    ...plain,
    transformer: large,
    heaters: { heater: 1.05 },
    form: 'centre-tap',
    law: gz34,
    farads: 60e-6,
    filterOhms: 220,
    loadOhms: 1500,
  },
  {
    title: 'GZ34, light load, high mains',
    ...plain,
    mainsVolts: 253,
    transformer: large,
    form: 'centre-tap',
    law: gz34,
    farads: 60e-6,
    loadOhms: 47e3,
  },
  {
    title: '5Y3, 20 µF',
    ...plain,
    hertz: 60,
    transformer: large,
    form: 'centre-tap',
    law: fiveY3,
    farads: 20e-6,
    loadOhms: 3300,
  },
  {
    title: 'GZ34, choke behind the reservoir',
    ...plain,
    transformer: large,
    heaters: { heater: 1.05 },
    form: 'centre-tap',
    law: gz34,
    farads: 16e-6,
    filterOhms: 150,
    filterHenries: 5,
    loadOhms: 2200,
  },
  {
    title: 'EZ81 in a bridge of anodes',
    ...plain,
    transformer: whole,
    form: 'bridge',
    law: ez81,
    farads: 47e-6,
    loadOhms: 5000,
  },
];

const semiconductorCases: readonly SupplyCase[] = [
  {
    title: 'silicon bridge',
    ...plain,
    transformer: whole,
    heaters: { heater: 3.15 },
    form: 'bridge',
    law: silicon,
    farads: 47e-6,
    loadOhms: 3300,
  },
  {
    title: 'silicon bridge, small reservoir, heavy load',
    ...plain,
    transformer: whole,
    form: 'bridge',
    law: silicon,
    farads: 10e-6,
    filterOhms: 220,
    loadOhms: 1500,
  },
  {
    title: 'silicon bridge, large reservoir',
    ...plain,
    transformer: whole,
    form: 'bridge',
    law: silicon,
    farads: 470e-6,
    loadOhms: 4700,
  },
  {
    title: 'silicon bridge, bleeder only',
    ...plain,
    transformer: whole,
    form: 'bridge',
    law: silicon,
    farads: 47e-6,
    loadOhms: 220e3,
  },
  {
    title: 'silicon centre-tap, unequal halves',
    ...plain,
    transformer: single,
    heaters: { heater: 2.1 },
    form: 'centre-tap',
    law: silicon,
    farads: 47e-6,
    loadOhms: 4700,
  },
  {
    title: 'silicon centre-tap with surge resistors',
    ...plain,
    transformer: single,
    surgeOhms: 100,
    form: 'centre-tap',
    law: silicon,
    farads: 100e-6,
    loadOhms: 3300,
    loadAmps: 0.02,
  },
  {
    title: 'silicon half-wave',
    ...plain,
    transformer: whole,
    form: 'half-wave',
    law: silicon,
    farads: 100e-6,
    loadOhms: 6800,
  },
  {
    title: 'silicon half-wave bias supply',
    ...plain,
    transformer: transformer(45, 0.02, [60], false, 2),
    heaters: { heater: 3.15 },
    form: 'half-wave',
    law: silicon,
    farads: 47e-6,
    filterOhms: 4700,
    loadOhms: 33e3,
  },
  {
    title: 'rectified heaters, silicon bridge',
    ...plain,
    transformer: low,
    form: 'bridge',
    law: silicon,
    farads: 4700e-6,
    filterOhms: 0.5,
    filterFarads: 4700e-6,
    loadOhms: 12.6,
  },
  {
    title: 'rectified heaters, Schottky bridge',
    ...plain,
    transformer: low,
    form: 'bridge',
    law: schottky,
    farads: 2200e-6,
    filterOhms: 1,
    filterFarads: 2200e-6,
    loadOhms: 18,
  },
  {
    title: 'Schottky half-wave at a few volts',
    ...plain,
    transformer: transformer(6.3, 0.5, [0.6], false, 1),
    form: 'half-wave',
    law: schottky,
    farads: 2200e-6,
    filterOhms: 10,
    filterFarads: 1000e-6,
    loadOhms: 100,
  },
];

/** Twenty-three supplies: half-wave, centre-tap, bridge; valve and semiconductor; light to heavy; small to large reservoirs. */
export const supplyCases: readonly SupplyCase[] = [...valveCases, ...semiconductorCases];
