import type { FoundChange, ParameterSize } from './fit-parameters.ts';
import type { Drift, Separation } from './gather-report.ts';
import type { Share } from './wilson.ts';

const minus = '−';

/** "12 of 100 (12 %)". */
export function shareWords({ count, of, share }: Share): string {
  return share === null ? 'none' : `${count} of ${of} (${percent(share)})`;
}

/** "95 %: 7 % to 20 %". */
export function intervalWords({ low, high }: Share): string {
  return `95 %: ${percent(low)} to ${percent(high)}`;
}

/** "+0.42 ± 0.05". */
export function driftWords({ mean, uncertainty }: Pick<Drift, 'mean' | 'uncertainty'>): string {
  return `${signed(mean, 2)} ± ${uncertainty.toFixed(2)}`;
}

/** "with V2 brand Ostrava (12) +0.80 ± 0.20 half-bands from the others". */
export function separationWords({ matter, level, count, difference, uncertainty }: Separation): string {
  const apart =
    difference === null
      ? ''
      : ` ${signed(difference, 2)} ± ${(uncertainty ?? 0).toFixed(2)} half-bands from the others`;
  return `with ${matter} ${level} (${count} builds)${apart}`;
}

/** One change, or those that cannot be told apart. */
export function changeWords({ group }: FoundChange): string {
  const [first, ...rest] = group;
  if (!first) return '';
  if (rest.length === 0) return sizeWords(first);
  return `${sizeWords(first)}; cannot be told apart from ${rest.map(sizeWords).join('; ')}`;
}

/** "R4 +8.1 % ± 0.6 %". */
export function sizeWords({ what, size, uncertainty }: ParameterSize): string {
  return `${what} ${signed(100 * size, 1)} % ± ${(100 * uncertainty).toFixed(1)} %`;
}

function percent(share: number): string {
  const value = 100 * share;
  return `${value > 0 && value < 10 ? value.toFixed(1) : value.toFixed(0)} %`;
}

/** "+0.42", with a true minus. */
export function signed(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return `${value < 0 && Number(text) !== 0 ? minus : '+'}${text}`;
}
