import { describe, expect, it } from 'vitest';
import { benchFields, readBench } from '../../../../renderer/features/bench/bench-form.ts';
import { plainBench } from '../../../../shared-core/prediction/bench.ts';
import { walkBench } from '../../../helpers/walk-kit.ts';

describe('the bench as typed', () => {
  it.each([plainBench, walkBench, { ...plainBench, lampWatts: null, batteryVolts: null }])(
    'comes back from its fields unchanged',
    (bench) => {
      expect(readBench(benchFields(bench))).toEqual({ ok: true, bench });
    },
  );

  it('takes the cells of a pointer meter and the lead that carries their plus', () => {
    const read = readBench({ ...benchFields(plainBench), ohmsVolts: '1.5', plusOn: 'black' });
    expect(read.ok && read.bench.meter.ohmsTest).toEqual({ volts: 1.5, plusOn: 'black' });
    expect(read.ok && readBench(benchFields(read.bench))).toEqual(read);
    expect(readBench({ ...benchFields(plainBench), ohmsVolts: '0' })).toMatchObject({
      ok: false,
      errors: { ohmsVolts: 'Expected more than nothing.' },
    });
  });

  it('reads a pointer meter by its ohms per volt', () => {
    const fields = { ...benchFields(plainBench), inputKind: 'per-volt', input: '20k' } as const;
    const read = readBench(fields);
    expect(read.ok && read.bench.meter.input).toEqual({ kind: 'per-volt', ohmsPerVolt: 20_000 });
  });

  it('takes a percentage without its sign, and a decimal comma', () => {
    const read = readBench({ ...benchFields(plainBench), dcAccuracy: '0,5', mains: '236,4' });
    expect(read.ok && read.bench.meter.accuracy.dcVolts).toBe(0.005);
    expect(read.ok && read.bench.mains.volts).toBe(236.4);
  });

  it('names every field that is wrong at once', () => {
    const read = readBench({ ...benchFields(plainBench), mains: '', meterVolts: '0', leadOhms: 'x' });
    expect(read.ok ? [] : Object.keys(read.errors).toSorted()).toEqual(['leadOhms', 'mains', 'meterVolts']);
  });

  it('lets leads have no resistance at all', () => {
    expect(readBench({ ...benchFields(plainBench), leadOhms: '0' }).ok).toBe(true);
  });
});
