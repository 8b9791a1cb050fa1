import type { FitVerdict } from '../../../shared-core/faults/fit-report.ts';
import type { Verdict } from '../../../shared-core/bands/verdict.ts';
import { formatQuantity } from '../../../shared-core/units/format-quantity.ts';
import type { Unit } from '../../../shared-core/units/unit.ts';

/** A verdict on a valve in words. */
export const fitWords: Readonly<Record<FitVerdict, string>> = {
  fits: 'fits as is',
  changed: 'fits, with changed readings',
  no: 'do not fit',
};

/** The shape that goes with it, of those that readings have. */
export const fitShapes: Readonly<Record<FitVerdict, Verdict>> = {
  fits: 'as expected',
  changed: 'borderline',
  no: 'stop',
};

/** A figure with its unit; a dash where there is none. */
export function shown(value: number | null, unit: Unit): string {
  return value === null ? '—' : formatQuantity(value, unit, 3);
}

/** "+12 %", "−0.4 %", "unmoved". */
export function movedWords(share: number | null): string {
  if (share === null) return '—';
  const percent = Math.abs(100 * share);
  if (percent < 0.05) return 'unmoved';
  return `${share < 0 ? '−' : '+'}${percent < 10 ? percent.toFixed(1) : percent.toFixed(0)} %`;
}
