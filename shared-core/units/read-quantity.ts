import { prefixExponents, unitWritings } from './unit.ts';
import type { Unit, UnitWriting } from './unit.ts';

/** A number with its unit, understood or refused with the reason. */
export type QuantityReading =
  | {
      readonly ok: true;
      /** In the SI unit asked for; a ratio for `%`. */
      readonly value: number;
      /** The unit was written out, or stands in place of the decimal point. */
      readonly unitGiven: boolean;
      /** A prefix letter was written: `4k7`, `47u`. */
      readonly prefixGiven: boolean;
    }
  | { readonly ok: false; readonly message: string; readonly hint: string };

const LONGEST = 40;

/** Superscripts and subscripts would become plain digits in NFKC, so that 10² would read 102. */
const RAISED = /[\u00b2\u00b3\u00b9\u2070-\u209f]/u;

/**
 * Reads a quantity as the trade writes it.
 *
 * `4k7`, `4,7k`, `R47`, `100R`, `2u2`, `47 µF`, `−3`, `6.3 V`, `100 mA`, `0,245 kV`, `±5 %`. A comma is
 * a decimal comma. A comma before exactly three digits (`1,000`) could also be a group of thousands: it is
 * refused unless a lone zero stands before it.
 *
 * @param text What was written.
 * @param unit The unit expected; a text with another unit is refused.
 */
export function readQuantity(text: string, unit: Unit): QuantityReading {
  if (text.length > LONGEST || RAISED.test(text)) return notUnderstood(text, unit);
  const writing = unitWritings[unit];
  const plain = text.normalize('NFKC').replaceAll('\u2212', '-').trim();
  const [, sign = '', body = ''] = /^([-+±]?) *(.*)$/u.exec(plain) ?? [];
  if (sign === '±' && unit !== '%') return notUnderstood(text, unit);
  const found = readSuffixed(body, writing) ?? readPointLetter(body, writing);
  if (!found) return notUnderstood(text, unit);
  if (found === 'ambiguous') {
    return {
      ok: false,
      message: `"${shorten(text)}" could mean thousands or a decimal comma`,
      hint: 'Write the number without groups, and a decimal part with a point: 1000 or 1.0.',
    };
  }
  // Adding zero turns -0 into 0.
  const value = (sign === '-' ? -found.value : found.value) + 0;
  if (!Number.isFinite(value)) return notUnderstood(text, unit);
  return { ok: true, value, unitGiven: found.unitGiven, prefixGiven: found.prefixGiven };
}

interface Found {
  readonly value: number;
  readonly unitGiven: boolean;
  readonly prefixGiven: boolean;
}

/** `47`, `4.7k`, `4,7 kΩ`, `250 V`: a number, then prefix and unit. */
function readSuffixed(body: string, writing: UnitWriting): Found | 'ambiguous' | null {
  const match = /^(\d+)(?:([.,])(\d+))? *(.*)$/u.exec(body);
  if (!match) return null;
  const [, whole = '', point, fraction = '', suffix = ''] = match;
  const scale = readSuffix(suffix, writing);
  if (!scale) return null;
  if (point === ',' && fraction.length === 3 && !/^0+$/.test(whole)) return 'ambiguous';
  const value = Number(`${whole}.${fraction || '0'}e${scale.exponent}`) * scale.multiple;
  return { value, unitGiven: scale.unitGiven, prefixGiven: scale.prefixGiven };
}

/** `4k7`, `R47`, `2u2 F`: a letter in place of the decimal point. */
function readPointLetter(body: string, writing: UnitWriting): Found | null {
  const match = /^(\d*)(\p{L})(\d+) *(.*)$/u.exec(body);
  if (!match) return null;
  const [, whole = '', letter = '', fraction = '', rest = ''] = match;
  if (!writing.pointLetters.includes(letter) || (whole === '' && !writing.leadingLetter)) return null;
  const isUnit = writing.names.includes(letter);
  if (rest !== '' && (isUnit || !writing.names.includes(rest))) return null;
  const exponent = isUnit ? 0 : (prefixExponents[letter] ?? 0);
  const value = Number(`${whole || '0'}.${fraction}e${exponent}`);
  return { value, unitGiven: isUnit || rest !== '', prefixGiven: !isUnit };
}

interface Scale {
  readonly exponent: number;
  readonly multiple: number;
  readonly unitGiven: boolean;
  readonly prefixGiven: boolean;
}

function readSuffix(suffix: string, writing: UnitWriting): Scale | null {
  const base = { exponent: 0, multiple: 1, unitGiven: true, prefixGiven: false };
  if (suffix === '') return { ...base, unitGiven: false };
  if (suffix === '%') return writing.names.includes('%') ? { ...base, exponent: -2 } : null;
  if (writing.names.includes(suffix)) return base;
  if (Object.hasOwn(writing.multiples, suffix)) return { ...base, multiple: writing.multiples[suffix] ?? 1 };
  const prefix = suffix[0] ?? '';
  if (!writing.prefixes.includes(prefix)) return null;
  const name = suffix.slice(1).trimStart();
  if (name !== '' && !writing.names.includes(name)) return null;
  const exponent = prefixExponents[prefix] ?? 0;
  // A bare "m" after a length or a time would be a unit, not a prefix; their names are tried first.
  return { exponent, multiple: 1, unitGiven: name !== '', prefixGiven: true };
}

const examples: Readonly<Record<Unit, string>> = {
  Ω: '4k7, R47 or 100 ohm',
  V: '6.3 V or 0.245 kV',
  A: '100 mA or 1 A',
  W: '0.5 W',
  VA: '45 VA',
  F: '47u, 2n2 or 47 µF',
  H: '10 H or 330 mH',
  s: '30 s or 5 min',
  m: '120 mm',
  Hz: '50 Hz or 1 kHz',
  '%': '5 % or ±5 %',
  '°': '90',
  '': '4 or 0.5',
};

function notUnderstood(text: string, unit: Unit): QuantityReading {
  const wanted = unit === '' ? 'a number' : unit === '%' ? 'a percentage' : `a value in ${unit}`;
  return {
    ok: false,
    message: `Expected ${wanted}, received "${shorten(text)}"`,
    hint: `Write it as ${examples[unit]}.`,
  };
}

function shorten(text: string): string {
  return text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text;
}

/** How a quantity of this unit is written, for hints: "6.3 V or 0.245 kV". */
export function exampleOf(unit: Unit): string {
  return examples[unit];
}
