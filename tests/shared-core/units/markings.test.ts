import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  capacitorMarking,
  resistorBands,
  resistorMarking,
  toleranceLetter,
} from '../../../shared-core/units/markings.ts';
import {
  isPreferred,
  nearestPreferred,
  preferredValues,
} from '../../../shared-core/units/preferred-values.ts';
import { readQuantity } from '../../../shared-core/units/read-quantity.ts';

describe('resistor colours (IEC 60062)', () => {
  test('writes the two examples of the standard tables', () => {
    expect(resistorBands(4700, 0.05, 4)).toEqual(['yellow', 'violet', 'red', 'gold']);
    expect(resistorBands(10_000, 0.01, 5)).toEqual(['brown', 'black', 'black', 'red', 'brown']);
  });

  test('writes values below ten with gold, silver and pink multipliers', () => {
    expect(resistorBands(4.7, 0.05, 4)).toEqual(['yellow', 'violet', 'gold', 'gold']);
    expect(resistorBands(0.47, 0.1, 4)).toEqual(['yellow', 'violet', 'silver', 'silver']);
    expect(resistorBands(0.047, 0.05, 4)).toEqual(['yellow', 'violet', 'pink', 'gold']);
  });

  test('leaves the tolerance band out at 20 %', () => {
    expect(resistorBands(1e6, 0.2, 4)).toEqual(['brown', 'black', 'green']);
  });

  test('has no bands for what the code cannot write', () => {
    expect(resistorBands(4990, 0.01, 4)).toBeNull();
    expect(resistorBands(4700, 0.03, 4)).toBeNull();
    expect(resistorBands(0, 0.05, 4)).toBeNull();
    expect(resistorBands(1e12, 0.05, 4)).toBeNull();
  });
});

describe('letter codes (IEC 60062)', () => {
  test.each([
    [4700, '4K7'],
    [47, '47R'],
    [0.47, 'R47'],
    [2.2e6, '2M2'],
    [100, '100R'],
    [1e5, '100K'],
  ])('prints %d Ω as %s', (ohms, text) => expect(resistorMarking(ohms)).toBe(text));

  test.each([
    [47e-6, '47u'],
    [2.2e-6, '2u2'],
    [2.2e-9, '2n2'],
    [0.47e-12, 'p47'],
    [100e-9, '100n'],
  ])('prints %d F as %s', (farads, text) => expect(capacitorMarking(farads)).toBe(text));

  test('reads back every marking of a preferred value', () => {
    const values = fc.tuple(fc.constantFrom(...preferredValues.E96), fc.integer({ min: -1, max: 8 }));
    fc.assert(
      fc.property(values, ([step, decade]) => {
        const ohms = Number(`${step}e${decade}`);
        const reading = readQuantity(resistorMarking(ohms), 'Ω');
        // One unit in the last place: both ways go through a decimal text.
        expect(reading.ok && Math.abs(reading.value / ohms - 1)).toBeLessThan(1e-12);
      }),
    );
  });

  test.each([
    [-0.05, 0.05, 'J'],
    [-0.1, 0.1, 'K'],
    [-0.2, 0.2, 'M'],
    [-0.01, 0.01, 'F'],
    [-0.2, 0.8, 'Z'],
    [-0.2, 0.5, 'S'],
    [-0.1, 0.3, 'Q'],
    [-0.1, 0.5, 'T'],
  ])('gives %d to %d the letter %s', (low, high, letter) => expect(toleranceLetter(low, high)).toBe(letter));

  test('has no letter for other limits', () => expect(toleranceLetter(-0.03, 0.03)).toBeNull());
});

describe('preferred values (IEC 60063)', () => {
  test('E24 is the list of the standard, and E12 and E6 are every second and fourth of it', () => {
    const e24 = '1 1.1 1.2 1.3 1.5 1.6 1.8 2 2.2 2.4 2.7 3 3.3 3.6 3.9 4.3 4.7 5.1 5.6 6.2 6.8 7.5 8.2 9.1';
    expect(preferredValues.E24.join(' ')).toBe(e24);
    expect(preferredValues.E12.join(' ')).toBe('1 1.2 1.5 1.8 2.2 2.7 3.3 3.9 4.7 5.6 6.8 8.2');
    expect(preferredValues.E6.join(' ')).toBe('1 1.5 2.2 3.3 4.7 6.8');
  });

  test('E24 differs from rounded powers at eight values, which is why the list is stored', () => {
    const rounded = preferredValues.E24.map((_, n) => Number((10 ** (n / 24)).toFixed(1)));
    const others = preferredValues.E24.filter((value, n) => value !== rounded[n]);
    expect(others).toEqual([2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2]);
  });

  test('E48 and E96 are rounded powers: 2.49 and 4.99 are among them', () => {
    expect(preferredValues.E96).toHaveLength(96);
    expect(preferredValues.E96).toContain(4.99);
    expect(preferredValues.E48).toContain(2.49);
    expect(preferredValues.E48).not.toContain(4.99);
  });

  test('knows what belongs to a series, in any decade', () => {
    expect(isPreferred(4.7e3, 'E6')).toBe(true);
    expect(isPreferred(47e-6, 'E6')).toBe(true);
    expect(isPreferred(5e3, 'E24')).toBe(false);
    expect(isPreferred(0, 'E24')).toBe(false);
    expect(nearestPreferred(5000, 'E12')).toBe(4700);
    expect(nearestPreferred(9.8, 'E6')).toBe(10);
  });
});
