/** Names used by kit files and valve types. */
export type BaseName = 'B7G' | 'B9A' | 'octal' | 'loctal' | 'UX4';

/**
 * Geometry of a valve base and its socket.
 *
 * Pins are numbered clockwise **seen from below**, starting after the gap or key.
 */
export interface ValveBase {
  readonly name: BaseName;
  readonly alsoCalled: readonly string[];
  /** Number of pins; numbers run from 1 to this. */
  readonly pins: number;
  /** Equal places on the circle; a gap is a place without a pin. */
  readonly places: number;
  /** Angle between neighbouring places, in degrees. */
  readonly stepDegrees: number;
  /** Diameter of the pin circle, in millimetres (mm). */
  readonly circleMillimetres: number;
  /** What shows where counting starts, between the last pin and pin 1. */
  readonly mark: 'gap' | 'key' | 'thick pins';
  /** Thicker pins, which tell the turn of a base without gap or key. */
  readonly thickPins: readonly number[];
  readonly source: string;
}

const iec = 'IEC 60067, from memory';

export const valveBases: readonly ValveBase[] = [
  {
    name: 'B7G',
    alsoCalled: ['miniature 7-pin'],
    pins: 7,
    places: 8,
    stepDegrees: 45,
    circleMillimetres: 9.5,
    mark: 'gap',
    thickPins: [],
    source: iec,
  },
  {
    name: 'B9A',
    alsoCalled: ['noval'],
    pins: 9,
    places: 10,
    stepDegrees: 36,
    circleMillimetres: 11.9,
    mark: 'gap',
    thickPins: [],
    source: iec,
  },
  {
    name: 'octal',
    alsoCalled: ['international octal'],
    pins: 8,
    places: 8,
    stepDegrees: 45,
    circleMillimetres: 17.5,
    mark: 'key',
    thickPins: [],
    source: iec,
  },
  {
    name: 'loctal',
    alsoCalled: ['B8G', 'lock-in'],
    pins: 8,
    places: 8,
    stepDegrees: 45,
    circleMillimetres: 17.5,
    mark: 'key',
    thickPins: [],
    source: iec,
  },
  {
    name: 'UX4',
    alsoCalled: ['UX-4', '4-pin'],
    pins: 4,
    places: 4,
    stepDegrees: 90,
    circleMillimetres: 16.3,
    mark: 'thick pins',
    thickPins: [1, 4],
    source:
      'order and thick pins: IEC 60067, from memory; circle and equal steps from memory, to be verified',
  },
];

/** Looks a base up by any of its names, capitals or not. */
export function findValveBase(name: string): ValveBase | undefined {
  const wanted = name.trim().toLowerCase();
  return valveBases.find((base) =>
    [base.name, ...base.alsoCalled].some((known) => known.toLowerCase() === wanted),
  );
}

/**
 * Where a pin sits, seen from below.
 *
 * @param pin Pin number, from 1.
 * @returns Degrees clockwise from the middle of the gap or key, seen from below.
 */
export function pinDegrees(base: ValveBase, pin: number): number {
  const first = base.places > base.pins ? 1 : 0.5;
  return (first + pin - 1) * base.stepDegrees;
}
