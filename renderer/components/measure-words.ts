import type { MeterEntry } from '../../shared-core/bands/verdict.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import { readMeterEntry } from '../../shared-core/units/meter-entry.ts';
import type { Unit } from '../../shared-core/units/unit.ts';

/** What was typed, as the field shows it: understood or not. */
export interface Typed {
  readonly entry: MeterEntry | null;
  readonly echo: string | null;
  readonly error: string | null;
}

/** Reads what was typed and says it back in words: "4.7 kΩ", "OL: beyond the range". */
export function readTyped(text: string, unit: Unit): Typed {
  if (text.trim() === '') return { entry: null, echo: null, error: null };
  const read = readMeterEntry(text, unit);
  if (!read.ok) return { entry: null, echo: null, error: `${read.message}. ${read.hint}` };
  return { entry: read.entry, echo: entryWords(read.entry, unit), error: null };
}

/** An entry in words. */
export function entryWords(entry: MeterEntry, unit: Unit): string {
  return entry.kind === 'overload' ? 'OL: beyond the range' : formatQuantity(entry.value, unit);
}

/** What to type, for an empty field. */
export function emptyHint(unit: Unit): string {
  return unit === 'Ω'
    ? 'As the meter shows it: 470, 4k7, 0,5 M, OL'
    : 'As the meter shows it: 7.81, −12, 0,245 kV';
}
