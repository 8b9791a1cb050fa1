const prefixes: readonly (readonly [number, string])[] = [
  [1e6, 'M'],
  [1e3, 'k'],
  [1, ''],
  [1e-3, 'm'],
  [1e-6, 'µ'],
];

/**
 * A quantity in a sentence, to three figures: "191 V", "4.7 kΩ".
 *
 * Volts from 1 V up keep the plain unit, as meters show them.
 *
 * @param value In the SI unit.
 * @param unit "V", "Ω" or "" for a pure number.
 */
export function formatQuantity(value: number, unit: string): string {
  const size = Math.abs(value);
  if (unit === '' || size === 0 || !Number.isFinite(size)) {
    return `${Number(value.toPrecision(3))}${unit ? ` ${unit}` : ''}`;
  }
  const usable = unit === 'V' ? prefixes.slice(2) : prefixes.slice(0, unit === 'Ω' ? 4 : 5);
  const [scale, prefix] = usable.find(([limit]) => size >= limit) ?? usable.at(-1) ?? [1, ''];
  const shown = size / scale >= 1000 ? Math.round(value / scale) : Number((value / scale).toPrecision(3));
  return `${shown} ${prefix}${unit}`;
}
