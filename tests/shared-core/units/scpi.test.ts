import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readMeterEntry } from '../../../shared-core/units/meter-entry.ts';
import { meterOffer, offeredText } from '../../../shared-core/units/meter-offer.ts';
import { isHeader, readMeterSetting } from '../../../shared-core/units/scpi-function.ts';
import type { MeterFunction, MeterSetting } from '../../../shared-core/units/scpi-function.ts';
import { instrumentName, readScpiIdentity } from '../../../shared-core/units/scpi-identity.ts';
import { readScpiNumber } from '../../../shared-core/units/scpi-number.ts';

/** IEEE 488.2 response data: NR1, NR2, NR3. Infinity ±9.9E37 and not-a-number 9.91E37 are those of SCPI-1999. */
describe('a number from an instrument', () => {
  test.each([
    ['+2.45312345E+02', 245.312345],
    ['-1.20000000E+01\r', -12],
    ['12', 12],
    ['.5', 0.5],
    ['+4.7E3', 4700],
    ['-0', 0],
  ])('reads %j', (text, value) => {
    expect(readScpiNumber(text)).toEqual({ kind: 'value', value });
  });

  test.each([
    ['9.9E37', { kind: 'overload', sign: 1 }],
    ['+9.90000000E+37', { kind: 'overload', sign: 1 }],
    ['-9.90000000E+37', { kind: 'overload', sign: -1 }],
    ['9.91E37', { kind: 'nothing' }],
    ['+9.91000000E+37', { kind: 'nothing' }],
  ])('knows %j as no reading', (text, number) => {
    expect(readScpiNumber(text)).toEqual(number);
  });

  test.each(['', 'OL', '1,2', '245.3 V', '1e16', '1e36', '0x10', 'NaN', '1 2', `${'1'.repeat(65)}`])(
    'does not guess at %j',
    (text) => {
      expect(readScpiNumber(text)).toEqual({ kind: 'not understood' });
    },
  );

  test('is offered as text that the entry field reads as the same number, to six digits', () => {
    const figure = fc.double({ min: -1e9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(figure, (value) => {
        const read = readMeterEntry(offeredText(value.toExponential(8)) ?? '', 'V');
        const entry = read.ok && read.entry.kind === 'value' ? read.entry.value : Number.NaN;
        // Half of the sixth digit; below a microvolt, half of the ninth place.
        expect(Math.abs(entry - value)).toBeLessThanOrEqual(Math.abs(value) * 5.0001e-6 + 0.5001e-9);
      }),
    );
  });
});

describe('what a meter is set to', () => {
  test.each<[string, MeterFunction | null, number | null]>([
    ['"VOLT +1.000000E+03,+1.0E-02"', 'dc volts', 1000],
    ['"VOLT:AC +1.0E+01,+1.0E-05"', 'ac volts', 10],
    ['"VOLT:DC"', 'dc volts', null],
    ['VOLTAGE', 'dc volts', null],
    ['"SENS:RES 1E6"', 'ohms', 1e6],
    ['"FRES +1.000000E+04,+1.0E-02"', 'ohms', 1e4],
    ['"CURR:DC +1.0E+00,+1.0E-06"', null, 1],
    ['"DIOD"', null, null],
  ])('reads %s', (answer, expected, range) => {
    expect(readMeterSetting(answer)).toMatchObject({ function: expected, range });
  });

  test.each(['', '+1.0E+00', '"VOLT', '"VOLT DEF"', 'a b c'])('does not guess at %j', (answer) => {
    expect(readMeterSetting(answer)).toBeNull();
  });

  test('takes the short and the long form of a keyword and nothing between (SCPI-1999, 6.2.1)', () => {
    for (const name of ['VOLT', 'VOLTAGE', 'VOLT:DC', 'VOLTAGE:DC']) {
      expect(isHeader(name, 'VOLTage[:DC]')).toBe(true);
    }
    for (const name of ['VOL', 'VOLTAG', 'VOLTAGES', 'VOLT:', 'VOLT:AC', 'DC']) {
      expect(isHeader(name, 'VOLTage[:DC]')).toBe(false);
    }
  });
});

describe('an identity', () => {
  test('has maker, model, serial number and firmware', () => {
    const identity = readScpiIdentity('LARKFIELD,DM-1,1024,1.0-a,b\r');
    expect(identity).toEqual({ maker: 'LARKFIELD', model: 'DM-1', serial: '1024', firmware: '1.0-a,b' });
    expect(identity && instrumentName(identity)).toBe('LARKFIELD DM-1, serial 1024');
  });

  test('without a serial number is named without one (IEEE 488.2 sends 0)', () => {
    const identity = readScpiIdentity('LARKFIELD,DM-1,0,0');
    expect(identity && instrumentName(identity)).toBe('LARKFIELD DM-1');
  });

  test.each(['', '+1.0E+00', 'a,b,c', ',,,', 'x\u0000,b,c,d', `${'x'.repeat(201)},b,c,d`])(
    'is not %j',
    (answer) => {
      expect(readScpiIdentity(answer)).toBeNull();
    },
  );
});

describe('what is offered for a reading', () => {
  const on = (fn: MeterFunction | null, range: number | null): MeterSetting => ({
    function: fn,
    name: 'CURR',
    range,
  });
  const codeOf = (...given: Parameters<typeof meterOffer>) => {
    const offer = meterOffer(...given);
    return offer.ok ? offer.value.text : offer.problems[0].code;
  };

  test('says number, function and range in words', () => {
    const offer = meterOffer('dc volts', on('dc volts', 1000), '+2.45312345E+02');
    expect(offer).toMatchObject({
      ok: true,
      value: { text: '245.312', words: '245.3\u202fV DC · 1\u202fkV range' },
    });
  });

  test('is nothing while the meter is set to another function', () => {
    expect(codeOf('dc volts', on('ac volts', 10), '1')).toBe('instrument/other-function');
    expect(codeOf('ohms', on('dc volts', 10), '1')).toBe('instrument/other-function');
    expect(codeOf('ac volts', on(null, 1), '1')).toBe('instrument/other-function');
  });

  test('is OL for ohms beyond a range that ends high enough for an open circuit', () => {
    expect(codeOf('ohms', on('ohms', 1e8), '9.9E37')).toBe('OL');
    expect(codeOf('ohms', on('ohms', 1e3), '9.9E37')).toBe('instrument/overload');
    expect(codeOf('ohms', on('ohms', null), '9.9E37')).toBe('instrument/overload');
  });

  test('is never an overload in volts', () => {
    expect(codeOf('dc volts', on('dc volts', 10), '9.9E37')).toBe('instrument/overload');
    expect(codeOf('ac volts', on('ac volts', 750), '-9.9E37')).toBe('instrument/overload');
  });

  test('is nothing where the meter has no reading, or sends something else', () => {
    expect(codeOf('dc volts', on('dc volts', 10), '9.91E37')).toBe('instrument/no-reading');
    expect(codeOf('dc volts', on('dc volts', 10), '1.0,2.0')).toBe('instrument/not-understood');
  });
});
