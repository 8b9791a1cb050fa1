import type { Bench, OhmsTest } from '../../../shared-core/prediction/bench.ts';
import { plainOhmsTest } from '../../../shared-core/prediction/bench.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';

/** The bench as typed. */
export interface BenchFields {
  readonly mains: string;
  readonly hertz: '50' | '60';
  readonly source: Bench['mains']['source'];
  readonly meter: string;
  readonly inputKind: Bench['meter']['input']['kind'];
  readonly input: string;
  readonly dcAccuracy: string;
  readonly acAccuracy: string;
  readonly ohmsAccuracy: string;
  readonly meterVolts: string;
  readonly category: Bench['meter']['category'];
  readonly ohmsVolts: string;
  readonly plusOn: OhmsTest['plusOn'];
  readonly leadVolts: string;
  readonly leadOhms: string;
  readonly lamp: string;
  readonly battery: string;
  readonly tester: 'yes' | 'no';
}

type NumberField = Exclude<
  keyof BenchFields,
  'hertz' | 'source' | 'meter' | 'inputKind' | 'category' | 'plusOn' | 'tester'
>;

/** What is wrong with a field, or nothing. */
export type BenchErrors = Readonly<Partial<Record<NumberField, string>>>;

const units: Readonly<Record<NumberField, Unit>> = {
  mains: 'V',
  input: 'Ω',
  dcAccuracy: '%',
  acAccuracy: '%',
  ohmsAccuracy: '%',
  meterVolts: 'V',
  ohmsVolts: 'V',
  leadVolts: 'V',
  leadOhms: 'Ω',
  lamp: 'W',
  battery: 'V',
};

/** Fields that may stay empty: a bench without a limiter, or without a battery. */
const mayBeEmpty: ReadonlySet<string> = new Set(['lamp', 'battery']);

/** Reads the typed bench; every field is read before it answers. */
export function readBench(
  fields: BenchFields,
): { readonly ok: true; readonly bench: Bench } | { readonly ok: false; readonly errors: BenchErrors } {
  const errors: Partial<Record<NumberField, string>> = {};
  const read = (field: NumberField): number => {
    const text = fields[field];
    if (text.trim() === '' && mayBeEmpty.has(field)) return Number.NaN;
    // A percentage is typed without its sign: 1 is 1 %.
    const given = units[field] === '%' && !text.includes('%') ? `${text} %` : text;
    const result = readQuantity(given, units[field]);
    if (!result.ok) errors[field] = `${result.message}. ${result.hint}`;
    else if (result.value < 0 || (result.value === 0 && field !== 'leadOhms'))
      errors[field] = 'Expected more than nothing.';
    return result.ok ? result.value : Number.NaN;
  };
  const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);
  const input = read('input');
  const bench: Bench = {
    mains: { volts: read('mains'), hertz: Number(fields.hertz), source: fields.source },
    meter: {
      label: fields.meter.trim(),
      input:
        fields.inputKind === 'fixed'
          ? { kind: 'fixed', ohms: input }
          : { kind: 'per-volt', ohmsPerVolt: input },
      accuracy: { dcVolts: read('dcAccuracy'), acVolts: read('acAccuracy'), ohms: read('ohmsAccuracy') },
      ratedVolts: read('meterVolts'),
      category: fields.category,
      ...ohmsTestOf(read('ohmsVolts'), fields.plusOn),
    },
    leads: { ratedVolts: read('leadVolts'), ohms: read('leadOhms') },
    lampWatts: orNull(read('lamp')),
    batteryVolts: orNull(read('battery')),
    hasInsulationTester: fields.tester === 'yes',
  };
  return Object.keys(errors).length === 0 ? { ok: true, bench } : { ok: false, errors };
}

/** Left out where it is a plain digital meter's, as in benches of before. */
function ohmsTestOf(volts: number, plusOn: OhmsTest['plusOn']): Pick<Bench['meter'], 'ohmsTest'> {
  const isPlain = volts === plainOhmsTest.volts && plusOn === plainOhmsTest.plusOn;
  return isPlain ? {} : { ohmsTest: { volts, plusOn } };
}

/** A bench as fields, for changing it. */
export function benchFields(bench: Bench): BenchFields {
  const { mains, meter, leads } = bench;
  const { input, accuracy, ohmsTest = plainOhmsTest } = meter;
  const ohms = input.kind === 'fixed' ? input.ohms : input.ohmsPerVolt;
  const percent = (ratio: number): string => String(Number((ratio * 100).toPrecision(4)));
  return {
    mains: String(mains.volts),
    hertz: mains.hertz === 60 ? '60' : '50',
    source: mains.source,
    meter: meter.label,
    inputKind: input.kind,
    input: formatQuantity(ohms, 'Ω').replace('\u202f', ' '),
    dcAccuracy: percent(accuracy.dcVolts),
    acAccuracy: percent(accuracy.acVolts),
    ohmsAccuracy: percent(accuracy.ohms),
    meterVolts: String(meter.ratedVolts),
    category: meter.category,
    ohmsVolts: String(ohmsTest.volts),
    plusOn: ohmsTest.plusOn,
    leadVolts: String(leads.ratedVolts),
    leadOhms: String(leads.ohms),
    lamp: bench.lampWatts === null ? '' : String(bench.lampWatts),
    battery: bench.batteryVolts === null ? '' : String(bench.batteryVolts),
    tester: bench.hasInsulationTester ? 'yes' : 'no',
  };
}
