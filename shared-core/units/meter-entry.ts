import { readQuantity } from './read-quantity.ts';
import type { Unit } from './unit.ts';

/** What the builder typed, understood: a value in SI units, or OL. */
export type MeterEntry = { readonly kind: 'value'; readonly value: number } | { readonly kind: 'overload' };

/** A meter entry, or why it was not understood. */
export type MeterEntryReading =
  | { readonly ok: true; readonly entry: MeterEntry }
  | { readonly ok: false; readonly message: string; readonly hint: string };

/** How meters show that the value is beyond the range: OL, O.L, 0L, 1 with blanks is left out on purpose. */
const OVERLOAD = /^[o0]\.?l\.?$|^overload$|^∞$/iu;

/**
 * Reads what a builder typed from the meter's display.
 *
 * A number without a unit is in the unit of the reading (`245.3`, `-12`); a prefix or unit counts
 * (`0,245 kV`, `4k7`); `OL` is an answer like any other.
 *
 * @param text What was typed.
 * @param unit The reading's unit.
 */
export function readMeterEntry(text: string, unit: Unit): MeterEntryReading {
  const trimmed = text.normalize('NFKC').trim();
  if (OVERLOAD.test(trimmed)) return { ok: true, entry: { kind: 'overload' } };
  const reading = readQuantity(text, unit);
  if (reading.ok) return { ok: true, entry: { kind: 'value', value: reading.value } };
  const hint = trimmed === '' ? 'Type what the display shows.' : `${reading.hint} Type OL for overload.`;
  return { ok: false, message: reading.message, hint };
}
