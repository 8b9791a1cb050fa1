import { unitWritings } from './unit.ts';
import type { Unit } from './unit.ts';

/** Narrow no-break space, between number and unit (SI brochure, 9th edition, 5.4.3). */
export const THIN_SPACE = '\u202f';

/** The true minus sign. */
export const MINUS = '\u2212';

const prefixes: readonly (readonly [number, string])[] = [
  [9, 'G'],
  [6, 'M'],
  [3, 'k'],
  [0, ''],
  [-3, 'm'],
  [-6, 'µ'],
  [-9, 'n'],
  [-12, 'p'],
];

/**
 * Writes a quantity for people: `4.7 kΩ`, `245 V`, `−3.2 V`, `5 %`, `10 min`.
 *
 * @param value In the SI unit; a ratio for `%`.
 * @param unit SI symbol.
 * @param digits Significant digits, 4 unless told otherwise; trailing zeros are dropped.
 * @returns The text, or a dash for a value that is not a finite number.
 */
export function formatQuantity(value: number, unit: Unit, digits = 4): string {
  if (!Number.isFinite(value)) return '—';
  const sign = value < 0 ? MINUS : '';
  return sign + formatSize(Math.abs(value), unit, digits);
}

/** Writes a number for people, with a true minus and no trailing zeros. */
export function formatNumber(value: number, digits = 4): string {
  return formatQuantity(value, '', digits);
}

function formatSize(size: number, unit: Unit, digits: number): string {
  if (unit === '') return trimmed(size, digits);
  if (unit === '%') return `${trimmed(size * 100, digits)}${THIN_SPACE}%`;
  if (unit === '°') return `${trimmed(size, digits)}°`;
  if (unit === 's' && size >= 120) return formatMinutes(size);
  const [exponent, prefix] = choosePrefix(Number(size.toPrecision(digits)), unit);
  return `${trimmed(scaled(size, exponent), digits)}${THIN_SPACE}${prefix}${unit}`;
}

function choosePrefix(size: number, unit: Unit): readonly [number, string] {
  if (size === 0) return [0, ''];
  const known = unitWritings[unit].prefixes;
  // What is written for people can also be read back.
  // The trade rates in watts down to tenths: 0.6 W, 0.25 W.
  if (unit === 'W' && size >= 0.1 && size < 1) return [0, ''];
  const allowed = prefixes.filter(([, prefix]) => known.includes(prefix === 'µ' ? 'u' : prefix));
  const fitting = allowed.find(([exponent]) => scaled(size, exponent) >= 1);
  return fitting ?? allowed[allowed.length - 1] ?? [0, ''];
}

/** Divides by a power of ten without the noise of a binary product. */
function scaled(size: number, exponent: number): number {
  const [mantissa = '0', power = '0'] = size.toExponential().split('e');
  return Number(`${mantissa}e${Number(power) - exponent}`);
}

function trimmed(value: number, digits: number): string {
  const rounded = Number(value.toPrecision(digits));
  return rounded >= 1e-6 || rounded === 0 ? String(rounded) : rounded.toFixed(12).replace(/0+$/, '');
}

function formatMinutes(seconds: number): string {
  const whole = Math.round(seconds);
  const rest = whole % 60;
  const minutes = `${Math.floor(whole / 60)}${THIN_SPACE}min`;
  return rest === 0 ? minutes : `${minutes} ${rest}${THIN_SPACE}s`;
}
