import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';

const valueOf = (text: string, unit: Unit) => {
  const reading = readQuantity(text, unit);
  return reading.ok ? reading.value : null;
};

describe('reading a quantity', () => {
  test.each([
    ['4k7', 'Ω', 4700],
    ['4,7k', 'Ω', 4700],
    ['4K7', 'Ω', 4700],
    ['R47', 'Ω', 0.47],
    ['4R7', 'Ω', 4.7],
    ['100R', 'Ω', 100],
    ['2M2', 'Ω', 2.2e6],
    ['330m', 'Ω', 0.33],
    ['1 Mohm', 'Ω', 1e6],
    ['10 \u2126', 'Ω', 10],
    ['2u2', 'F', 2.2e-6],
    ['47 µF', 'F', 47e-6],
    ['47 \u03bcF', 'F', 47e-6],
    ['p47', 'F', 0.47e-12],
    ['22n', 'F', 22e-9],
    ['−3', 'V', -3],
    ['-3.5 V', 'V', -3.5],
    ['6.3 V', 'V', 6.3],
    ['6V3', 'V', 6.3],
    ['0,245 kV', 'V', 245],
    ['245\u202fV', 'V', 245],
    ['2４５ V', 'V', 245],
    ['100 mA', 'A', 0.1],
    ['10 H', 'H', 10],
    ['30 s', 's', 30],
    ['5 min', 's', 300],
    ['120 mm', 'm', 0.12],
    ['±5 %', '%', 0.05],
    ['-20%', '%', -0.2],
    ['0 %', '%', 0],
    ['50 Hz', 'Hz', 50],
  ] as const)('reads %s in %s', (text, unit, value) => {
    expect(valueOf(text, unit)).toBe(value);
  });

  test.each([
    ['1e3', 'Ω'],
    ['4k7k', 'Ω'],
    ['0x10', 'Ω'],
    ['1.000,5', 'V'],
    ['1,000 V', 'V'],
    ['12 345', 'V'],
    ['10² V', 'V'],
    ['', 'V'],
    ['V', 'V'],
    ['- 3 -', 'V'],
    ['5 A', 'V'],
    ['4k7 A', 'Ω'],
    ['±5 V', 'V'],
    ['5.', 'V'],
    ['Infinity', 'V'],
    ['9'.repeat(400), 'V'],
    ['5 kW', 'V'],
  ] as const)('refuses %s in %s and says how to write it', (text, unit) => {
    const reading = readQuantity(text, unit);
    expect(reading.ok).toBe(false);
    expect(!reading.ok && reading.hint).toMatch(/Write/);
  });

  test('takes M for mega and m for milli', () => {
    expect(valueOf('1M', 'Ω')).toBe(1e6);
    expect(valueOf('1m', 'Ω')).toBe(1e-3);
  });

  test('says whether unit or prefix were written', () => {
    expect(readQuantity('47u', 'F')).toEqual({ ok: true, value: 47e-6, unitGiven: false, prefixGiven: true });
    expect(readQuantity('47', 'F')).toEqual({ ok: true, value: 47, unitGiven: false, prefixGiven: false });
    expect(readQuantity('4R7', 'Ω')).toEqual({ ok: true, value: 4.7, unitGiven: true, prefixGiven: false });
  });

  test('reads a comma before three digits only where it cannot mean thousands', () => {
    expect(valueOf('0,245', 'V')).toBe(0.245);
    const reading = readQuantity('1,245', 'V');
    expect(!reading.ok && reading.message).toContain('thousands');
  });

  test('reads back what is written for people', () => {
    const units = fc.constantFrom<Unit>('Ω', 'V', 'A', 'W', 'F', 'H', 'Hz', '%');
    // Four significant digits, as many as are written.
    const sizes = fc.tuple(fc.integer({ min: 1000, max: 9999 }), fc.integer({ min: -12, max: 5 }));
    fc.assert(
      fc.property(units, sizes, fc.boolean(), (unit, [digits, power], isNegative) => {
        const value = Number(`${isNegative ? '-' : ''}${digits}e${unit === '%' ? -5 : power}`);
        const back = valueOf(formatQuantity(value, unit), unit);
        // Exact but for the last bit: both ways go through a decimal text.
        expect(Math.abs((back ?? NaN) / value - 1)).toBeLessThan(1e-12);
      }),
      { numRuns: 2000 },
    );
  });

  test('answers any text and never throws', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary' }),
        fc.constantFrom<Unit>('Ω', 'V', 'F', '%', ''),
        (text, unit) => {
          const reading = readQuantity(text, unit);
          expect(reading.ok ? Number.isFinite(reading.value) : reading.message !== '').toBe(true);
        },
      ),
    );
  });
});
