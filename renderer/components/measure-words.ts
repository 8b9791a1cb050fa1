import type { MeterEntry } from '../../shared-core/bands/verdict.ts';
import { formatNumber, formatQuantity } from '../../shared-core/units/format-quantity.ts';
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
  const isBeyond = read.entry.kind === 'overload';
  return {
    entry: read.entry,
    echo: isBeyond ? 'OL: beyond the range' : entryWords(read.entry, unit),
    error: null,
  };
}

/** An entry in words; ohms below one as meters show them: "0.25 Ω". */
export function entryWords(entry: MeterEntry, unit: Unit): string {
  if (entry.kind === 'overload') return 'OL';
  const isSmall = unit === 'Ω' && Math.abs(entry.value) < 1;
  return isSmall ? `${formatNumber(entry.value)}\u202fΩ` : formatQuantity(entry.value, unit);
}

/** What to type, for an empty field. */
export function emptyHint(unit: Unit): string {
  return unit === 'Ω' ? '470, 4k7, 0,5 M or OL' : '7.81, −12 or 0,245 kV';
}
