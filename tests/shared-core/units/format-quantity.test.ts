import { expect, test } from 'vitest';
import { formatNumber, formatQuantity } from '../../../shared-core/units/format-quantity.ts';

const thin = '\u202f';

test.each([
  [0.6, 'W', '0.6\u202fW'],
  [0.25, 'W', '0.25\u202fW'],
  [0.05, 'W', '50\u202fmW'],
  [4700, 'Ω', `4.7${thin}kΩ`],
  [245, 'V', `245${thin}V`],
  [-3.25, 'V', `\u22123.25${thin}V`],
  [0, 'V', `0${thin}V`],
  [-0, 'V', `0${thin}V`],
  [0.1, 'A', `100${thin}mA`],
  [47e-6, 'F', `47${thin}µF`],
  [999.96, 'V', `1${thin}kV`],
  [999.94, 'V', `999.9${thin}V`],
  [10e6, 'Ω', `10${thin}MΩ`],
  [0.05, '%', `5${thin}%`],
  [90, 's', `90${thin}s`],
  [600, 's', `10${thin}min`],
  [150, 's', `2${thin}min 30${thin}s`],
  [0.12, 'm', `120${thin}mm`],
  [1200, 'm', `1200${thin}m`],
  [45, '°', '45°'],
] as const)('writes %d in %s as %s', (value, unit, text) => {
  expect(formatQuantity(value, unit)).toBe(text);
});

test('rounds to the digits asked for and drops trailing zeros', () => {
  expect(formatQuantity(245.37, 'V', 3)).toBe(`245${thin}V`);
  expect(formatNumber(12.34567, 3)).toBe('12.3');
  expect(formatNumber(-0.5)).toBe('\u22120.5');
});

test('writes a dash for what is not a finite number', () => {
  expect(formatQuantity(Number.NaN, 'V')).toBe('—');
  expect(formatQuantity(Infinity, 'V')).toBe('—');
});
