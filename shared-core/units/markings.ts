/**
 * Markings of resistors and capacitors after IEC 60062:2016.
 */

/** The colour of each digit, 0 to 9. */
export const digitColours = [
  'black',
  'brown',
  'red',
  'orange',
  'yellow',
  'green',
  'blue',
  'violet',
  'grey',
  'white',
] as const;

export type BandColour = (typeof digitColours)[number] | 'gold' | 'silver' | 'pink';

/** Colours of the multipliers below one. */
const smallMultipliers: Readonly<Record<number, BandColour>> = { [-1]: 'gold', [-2]: 'silver', [-3]: 'pink' };

/** Tolerance, as a ratio, to letter and colour; 0.0005 (W, orange) and 0.0002 (P, yellow) as in 2016. */
export const tolerances: readonly {
  readonly ratio: number;
  readonly letter: string;
  readonly colour: BandColour;
}[] = [
  { ratio: 0.0001, letter: 'L', colour: 'grey' },
  { ratio: 0.0002, letter: 'P', colour: 'yellow' },
  { ratio: 0.0005, letter: 'W', colour: 'orange' },
  { ratio: 0.001, letter: 'B', colour: 'violet' },
  { ratio: 0.0025, letter: 'C', colour: 'blue' },
  { ratio: 0.005, letter: 'D', colour: 'green' },
  { ratio: 0.01, letter: 'F', colour: 'brown' },
  { ratio: 0.02, letter: 'G', colour: 'red' },
  { ratio: 0.05, letter: 'J', colour: 'gold' },
  { ratio: 0.1, letter: 'K', colour: 'silver' },
];

/** Capacitor tolerances that are not symmetrical, and ±20 %, which has a letter but no colour. */
const capacitorLetters: readonly (readonly [number, number, string])[] = [
  [-0.2, 0.2, 'M'],
  [-0.1, 0.3, 'Q'],
  [-0.2, 0.5, 'S'],
  [-0.1, 0.5, 'T'],
  [-0.2, 0.8, 'Z'],
];

/**
 * The tolerance letter of a part, or null where the standard has none.
 *
 * @param low Lower limit as a ratio, −0.05 for −5 %.
 * @param high Upper limit as a ratio.
 */
export function toleranceLetter(low: number, high: number): string | null {
  const same = (a: number, b: number) => Math.abs(a - b) < 1e-9;
  const lopsided = capacitorLetters.find(([l, h]) => same(l, low) && same(h, high));
  if (lopsided) return lopsided[2];
  return tolerances.find(({ ratio }) => same(ratio, high) && same(-ratio, low))?.letter ?? null;
}

/** Resistance as printed: `4K7`, `47R`, `R47`, `2M2`. In ohms (Ω). */
export function resistorMarking(ohms: number): string {
  return letterCode(ohms, [
    [9, 'G'],
    [6, 'M'],
    [3, 'K'],
    [0, 'R'],
  ]);
}

/** Capacitance as printed: `47u`, `2n2`, `p47`. In farads (F). */
export function capacitorMarking(farads: number): string {
  return letterCode(farads, [
    [-3, 'm'],
    [-6, 'u'],
    [-9, 'n'],
    [-12, 'p'],
  ]);
}

function letterCode(value: number, letters: readonly (readonly [number, string])[]): string {
  const [digits = '0', power = '0'] = Number(value.toPrecision(4)).toExponential().split('e');
  const scaled = (exponent: number) => Number(`${digits}e${Number(power) - exponent}`);
  const last = letters[letters.length - 1] ?? [0, 'R'];
  const [exponent, letter] = letters.find(([e]) => scaled(e) >= 1) ?? last;
  const [whole = '0', fraction = ''] = String(scaled(exponent)).split('.');
  return `${whole === '0' && fraction ? '' : whole}${letter}${fraction}`;
}

/**
 * The colour bands of a resistor, first band first.
 *
 * @param ohms In ohms (Ω), above zero.
 * @param tolerance As a ratio, 0.05 for ±5 %; 0.2 has no band.
 * @param count Four bands hold two digits, five hold three.
 * @returns The bands, or null where the code cannot write the value or the tolerance.
 */
export function resistorBands(ohms: number, tolerance: number, count: 4 | 5): readonly BandColour[] | null {
  if (!(ohms > 0) || !Number.isFinite(ohms)) return null;
  const digitCount = count - 2;
  const [mantissa = '', power = '0'] = ohms.toExponential(digitCount - 1).split('e');
  const digits = mantissa.replace('.', '');
  const exponent = Number(power) - (digitCount - 1);
  if (Math.abs(Number(`${digits}e${exponent}`) / ohms - 1) > 1e-9) return null;
  const multiplier = smallMultipliers[exponent] ?? digitColours[exponent];
  if (!multiplier) return null;
  const bands: BandColour[] = [...digits].map((digit) => digitColours[Number(digit)] ?? 'black');
  bands.push(multiplier);
  if (Math.abs(tolerance - 0.2) < 1e-9) return bands;
  const last = tolerances.find(({ ratio }) => Math.abs(ratio - tolerance) < 1e-9);
  return last ? [...bands, last.colour] : null;
}
