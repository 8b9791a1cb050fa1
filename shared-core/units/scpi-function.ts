import { readScpiNumber } from './scpi-number.ts';

/** What a meter measures, of the things that a kit asks a meter for. */
export type MeterFunction = 'dc volts' | 'ac volts' | 'ohms';

/** What a meter says it is set to. */
export interface MeterSetting {
  /** Null for anything that no reading of a kit is taken with: amperes, hertz, diode test. */
  readonly function: MeterFunction | null;
  /** As the meter named it: `VOLT:AC`. */
  readonly name: string;
  /** In the function's SI unit (V, Ω); null where the meter did not say. */
  readonly range: number | null;
}

/**
 * The functions by their SCPI headers, short form in capitals (SCPI-1999, volume 3, SENSe:FUNCtion).
 *
 * Nodes in brackets may be left out. Four-wire ohms are ohms.
 */
const headers: readonly (readonly [string, MeterFunction])[] = [
  ['VOLTage[:DC]', 'dc volts'],
  ['VOLTage:AC', 'ac volts'],
  ['RESistance', 'ohms'],
  ['FRESistance', 'ohms'],
];

/**
 * Reads the answer to `CONFigure?` (`"VOLT +1.000000E+01,+3.000000E-06"`) or `SENSe:FUNCtion?` (`"VOLT:AC"`).
 *
 * @returns null for anything that is neither.
 */
export function readMeterSetting(answer: string): MeterSetting | null {
  const text = unquoted(answer.trim());
  const match = /^([A-Z][A-Z:]*)(?:\s+([^\s,]+)(?:\s*,.*)?)?$/i.exec(text);
  if (!match) return null;
  const [, header = '', first] = match;
  const range = first === undefined ? null : readScpiNumber(first);
  if (range !== null && range.kind !== 'value') return null;
  const name = header.toUpperCase().replace(/^SENS(E)?:/, '');
  const found = headers.find(([pattern]) => isHeader(name, pattern));
  return { function: found?.[1] ?? null, name, range: range?.value ?? null };
}

/**
 * Whether a header as sent is the one of a pattern: each keyword in its short or its long form, nothing between.
 *
 * @param name In capitals, without a leading colon.
 * @param pattern As in the standard: `VOLTage[:DC]`.
 */
export function isHeader(name: string, pattern: string): boolean {
  const [fixed = '', optional] = pattern.split('[');
  const wanted = fixed.split(':');
  const more = optional === undefined ? [] : optional.replace(/^:|\]$/g, '').split(':');
  const nodes = name.split(':');
  const isAs = (patterns: readonly string[]): boolean =>
    nodes.length === patterns.length && patterns.every((each, index) => isKeyword(nodes[index] ?? '', each));
  return isAs(wanted) || (more.length > 0 && isAs([...wanted, ...more]));
}

function isKeyword(word: string, pattern: string): boolean {
  return word === pattern.toUpperCase() || word === pattern.replace(/[a-z]+/g, '');
}

/** String response data stand in quotes (IEEE 488.2); some instruments leave them out. */
function unquoted(text: string): string {
  return /^"[^"]*"$/.test(text) || /^'[^']*'$/.test(text) ? text.slice(1, -1) : text;
}
