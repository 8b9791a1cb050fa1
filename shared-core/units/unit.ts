/**
 * The units that a kit file and a meter speak, by their SI symbol.
 *
 * `%` stands for a ratio (5 % is 0.05), `°` for degrees of turn, `''` for a pure number.
 */
export type Unit = 'Ω' | 'V' | 'A' | 'W' | 'VA' | 'F' | 'H' | 's' | 'm' | 'Hz' | '%' | '°' | '';

/** How one unit is written. */
export interface UnitWriting {
  /** Ways to write the unit after the number, after NFKC. */
  readonly names: readonly string[];
  /** Unit names that stand for a multiple: `min` is 60 s. */
  readonly multiples: Readonly<Record<string, number>>;
  /** Prefix letters allowed before the unit. */
  readonly prefixes: string;
  /** Letters that may stand in place of the decimal point: `4k7`, `4R7`, `6V3`. */
  readonly pointLetters: string;
  /** The letter may also come first: `R47` is 0.47 Ω. */
  readonly leadingLetter: boolean;
}

/** Prefix letters to powers of ten. `M` is mega and `m` is milli; `K` is IEC 60062's kilo. */
export const prefixExponents: Readonly<Record<string, number>> = {
  p: -12,
  n: -9,
  u: -6,
  μ: -6,
  m: -3,
  k: 3,
  K: 3,
  M: 6,
  G: 9,
};

const plain = { multiples: {}, prefixes: '', pointLetters: '', leadingLetter: false };

/** How each unit is written. */
export const unitWritings: Readonly<Record<Unit, UnitWriting>> = {
  Ω: {
    names: ['Ω', 'ohm', 'ohms', 'Ohm', 'Ohms', 'R'],
    multiples: {},
    prefixes: 'mkKMG',
    pointLetters: 'RkKMG',
    leadingLetter: true,
  },
  V: { ...plain, names: ['V', 'volt', 'volts'], prefixes: 'uμmkM', pointLetters: 'Vk' },
  A: { ...plain, names: ['A', 'amp', 'amps'], prefixes: 'nuμmk', pointLetters: 'Am' },
  W: { ...plain, names: ['W', 'watt', 'watts'], prefixes: 'mk', pointLetters: 'W' },
  VA: { ...plain, names: ['VA'], prefixes: 'k' },
  F: { ...plain, names: ['F'], prefixes: 'pnuμm', pointLetters: 'pnuμmF', leadingLetter: true },
  H: { ...plain, names: ['H'], prefixes: 'nuμm', pointLetters: 'uμmH', leadingLetter: true },
  s: { ...plain, names: ['s', 'sec'], multiples: { min: 60, h: 3600 }, prefixes: 'm' },
  m: { ...plain, names: ['m'], multiples: { cm: 0.01 }, prefixes: 'm' },
  Hz: { ...plain, names: ['Hz'], prefixes: 'kM' },
  '%': { ...plain, names: ['%'] },
  '°': { ...plain, names: ['°', 'deg', 'degrees'] },
  '': { ...plain, names: [] },
};
