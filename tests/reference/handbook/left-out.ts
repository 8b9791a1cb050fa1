/** A published row that is no check, and why. */
export interface LeftOutRow {
  readonly what: string;
  readonly why: string;
}

const toVerify = 'from memory, to be verified before it becomes a check';

/** Rows and figures of the handbooks that are not checked. Their figures may still be printed. */
export const leftOut: readonly LeftOutRow[] = [
  {
    what: 'EL84 push-pull 300/300 V −14.7 V (printed)',
    why: 'every published model gives 11–13 mA per valve here, the sheet 7.5 mA: not a model test',
  },
  { what: 'EL84 210 Ω, 7 kΩ: 4.2 W', why: toVerify },
  {
    what: 'ECC81 100 V −1 V of GE: 3.7 mA, 4.0 mA/V, 15 kΩ',
    why: 'the row of Philips (3.0 mA) is the one checked; at one grid voltage both cannot hold',
  },
  {
    what: 'ECC81 100 V −1 V anode resistance (printed)',
    why: 'the makers differ by 10 % there and the set gives 13.9 kΩ',
  },
  { what: 'KT88 screen current 3 mA (printed)', why: toVerify },
  { what: 'KT88 push-pull 560 V, 300 V, −34 V, 100 W', why: toVerify },
  { what: 'EF86 resistance-coupled stages, gain 112 and 180', why: toVerify },
  { what: 'anode resistance of pentodes (printed)', why: 'the arctangent law gives 1.5 to 5 times too much' },
  {
    what: 'screen amplification of pentodes (printed)',
    why: 'no limit is set for it: MU of the law takes up more than the grids’ geometry',
  },
  {
    what: 'screen currents away from the characteristic point (printed)',
    why: 'the screen law is fitted at that point and known to be loose elsewhere',
  },
  {
    what: 'watts of typical operations (printed)',
    why: 'the method of the sheets (distortion limit, drive, transformer losses) is not stated',
  },
  {
    what: '5Y3GT drop 60 V at 125 mA (GE)',
    why: 'RCA gives 50 V for the same valve: the catalogue holds one of them, whose outputs agree',
  },
  { what: 'EZ80 drop 25 V at 90 mA', why: 'calculated from the very perveance that it would check' },
  {
    what: 'OA2, OB2 spread, striking and regulation limits',
    why: `${toVerify}; their voltage and typical regulation are checked`,
  },
  { what: 'E182CC, 6SL7GT, KT88, 300B: limits of grid resistors, E182CC basing', why: toVerify },
];
