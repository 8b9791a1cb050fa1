import type { MeterEntry } from '../bands/verdict.ts';
import type { ShownBand } from '../safety/events.ts';
import type { RecordedInstrument } from '../safety/instrument.ts';
import { formatQuantity, THIN_SPACE } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';
import type { CellLine, ReportCell } from './report-document.ts';

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** "7 Mar 2026" from UTC ISO text; the text itself where it is none. */
export function dayOf(at: string): string {
  const match = /^(\d{4})-(\d{2})-(\d{2})T/.exec(at);
  if (match === null) return at;
  const [, year, month, day] = match;
  return `${Number(day)} ${months[Number(month) - 1] ?? month} ${year}`;
}

/** "09:04" from UTC ISO text. */
export function timeOf(at: string): string {
  return /T(\d{2}:\d{2})/.exec(at)?.[1] ?? '';
}

/** "7 Mar 2026, 09:04". */
export function dayAndTime(at: string | null): string {
  return at === null ? 'not recorded' : `${dayOf(at)}, ${timeOf(at)}`;
}

/** A length of time in words: "48 s", "3 min 20 s", "1 h 5 min". */
export function duration(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 3600) return formatQuantity(whole, 's');
  const minutes = Math.round(whole / 60);
  const rest = minutes % 60;
  const hours = `${Math.floor(minutes / 60)}${THIN_SPACE}h`;
  return rest === 0 ? hours : `${hours} ${rest}${THIN_SPACE}min`;
}

/** What the meter showed, with its unit. */
export function entryWords(entry: MeterEntry, unit: Unit): string {
  return entry.kind === 'overload' ? 'OL' : formatQuantity(entry.value, unit);
}

/** An instrument with what its insulation is good for. */
export function instrumentWords({ name, address, isolated, earthVolts }: RecordedInstrument): string {
  const insulation = isolated
    ? `isolated, up to ${formatQuantity(earthVolts, 'V')} from earth`
    : 'not isolated from earth';
  return `${name} (${address}), ${insulation}`;
}

/** The band as words: "7.03 to 8.41 V", "below 0.3 Ω", or why there is none. */
export function bandWords(
  band: ShownBand | null,
  unit: Unit,
  expect: { readonly above?: number; readonly below?: number; readonly overload?: true } | null,
): string {
  const low = band?.low ?? expect?.above ?? null;
  const high = band?.high ?? expect?.below ?? null;
  if (low !== null && high !== null) return rangeWords(low, high, unit);
  if (high !== null) return `below ${formatQuantity(high, unit, 3)}`;
  if (low !== null) return `above ${formatQuantity(low, unit, 3)}`;
  return expect?.overload === true ? 'OL' : 'no band';
}

/** "7.03 to 8.41 V": the unit once where both ends have the same. */
function rangeWords(low: number, high: number, unit: Unit): string {
  const [lowFigure = '', lowUnit = ''] = formatQuantity(low, unit, 3).split(THIN_SPACE);
  const highText = formatQuantity(high, unit, 3);
  const isSame = highText.split(THIN_SPACE)[1] === lowUnit;
  return `${lowFigure}${isSame || lowUnit === '' ? '' : `${THIN_SPACE}${lowUnit}`} to ${highText}`;
}

/** "1 reading", "3 readings". */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** A list in words: "C1, C2 and C3". */
export function listed(items: readonly string[]): string {
  if (items.length <= 1) return items[0] ?? '';
  return `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

/** A cell of plain text. */
export function cell(text: string, style: CellLine['style'] = 'plain'): ReportCell {
  return { lines: [{ text, style }] };
}
