/** What an instrument sent in place of a number. */
export type ScpiNumber =
  | { readonly kind: 'value'; readonly value: number }
  /** Beyond the range: positive or negative infinity. */
  | { readonly kind: 'overload'; readonly sign: 1 | -1 }
  /** "Not a number": the instrument has no reading. */
  | { readonly kind: 'nothing' }
  | { readonly kind: 'not understood' };

/**
 * Infinity and "not a number" as instruments send them: ±9.9E37 and 9.91E37.
 *
 * SCPI-1999, volume 1, section 7.2.1 (section number from memory).
 */
const infinity = 9.9e37;
const notANumber = 9.91e37;

/** Half of the distance between the two, so that neither is taken for the other however it is rounded. */
const between = (infinity + notANumber) / 2;
const aboveNotANumber = 2 * notANumber - between;

/** Largest figure that is believed, in any unit: our own bound; nothing on a bench comes near. */
const largest = 1e15;

/** NR1, NR2 and NR3 of IEEE 488.2: `12`, `-0.5`, `+1.23456789E+02`. */
const NUMBER = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:E[+-]?\d{1,3})?)$/i;

/** Longest answer that is read as a number, in characters. */
const longest = 64;

/**
 * Reads a number as an instrument sends it (IEEE 488.2, decimal numeric response data).
 *
 * Units, several values at once, or anything else beside the number are not understood: a guess here would
 * be a wrong reading.
 *
 * @param text One answer, without its line end.
 */
export function readScpiNumber(text: string): ScpiNumber {
  const trimmed = text.trim();
  if (trimmed.length > longest || !NUMBER.test(trimmed)) return { kind: 'not understood' };
  const value = Number(trimmed) + 0;
  const size = Math.abs(value);
  if (size <= largest) return { kind: 'value', value };
  if (size > between && size < aboveNotANumber) return { kind: 'nothing' };
  if (size >= infinity * (1 - 1e-6)) return { kind: 'overload', sign: value < 0 ? -1 : 1 };
  return { kind: 'not understood' };
}
