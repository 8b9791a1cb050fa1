import type { ChartRow, Heater, OtherPin, ValveSection } from './valve-type.ts';
import { filamentMiddle } from './valve-type.ts';

type Warmth = Pick<Heater, 'source' | 'warmUpSeconds' | 'warmUpSource'>;

/** A heater with two pins. */
export function plainHeater(
  pins: readonly [number, number],
  volts: number,
  amps: number,
  warmth: Warmth,
): Heater {
  return {
    heating: 'indirect',
    elements: [{ pins, volts, amps }],
    hookups: [{ name: 'only', volts, amps, sides: [[pins[0]], [pins[1]]] }],
    ...warmth,
  };
}

/** A heater of two equal halves with a tap: in series from end to end, or both halves in parallel. */
export function tappedHeater(
  ends: readonly [number, number],
  tap: number,
  halfVolts: number,
  halfAmps: number,
  warmth: Warmth,
): Heater {
  const [first, second] = ends;
  return {
    heating: 'indirect',
    elements: [
      { pins: [first, tap], volts: halfVolts, amps: halfAmps },
      { pins: [second, tap], volts: halfVolts, amps: halfAmps },
    ],
    hookups: [
      { name: 'series', volts: 2 * halfVolts, amps: halfAmps, sides: [[first], [second]] },
      { name: 'parallel', volts: halfVolts, amps: 2 * halfAmps, sides: [[first, second], [tap]] },
    ],
    ...warmth,
  };
}

/** A filament that is the cathode of an amplifying valve: two halves that meet in its electrical middle. */
export function filament(
  pins: readonly [number, number],
  volts: number,
  amps: number,
  warmth: Warmth,
): Heater {
  const half = volts / 2;
  return {
    heating: 'direct',
    elements: [
      { pins: [pins[0], filamentMiddle], volts: half, amps },
      { pins: [filamentMiddle, pins[1]], volts: half, amps },
    ],
    hookups: [{ name: 'only', volts, amps, sides: [[pins[0]], [pins[1]]] }],
    ...warmth,
  };
}

/** No heater: a cold-cathode valve, which works as soon as it strikes. */
export function noHeater(source: string): Heater {
  return {
    heating: 'none',
    elements: [],
    hookups: [],
    source,
    warmUpSeconds: 0,
    warmUpSource: 'cold cathode',
  };
}

/** The two like halves of a double triode; each is given as anode, grid, cathode. */
export function twoTriodes(
  one: readonly [number, number, number],
  two: readonly [number, number, number],
  parameters: ValveSection['parameters'],
  parameterSource: string,
): readonly ValveSection[] {
  return [one, two].map(([anode, grid, cathode], index) => ({
    name: String(index + 1),
    device: 'triode',
    pins: { anode, grid, cathode },
    parameters,
    parameterSource,
  }));
}

/** Pins of one role that belong to nothing. */
export function otherPins(role: OtherPin['role'], ...pins: readonly number[]): readonly OtherPin[] {
  return pins.map((pin) => ({ pin, role, joinTo: null }));
}

/** Rows of a resistance-coupled amplifier chart: anode, next grid and cathode resistor (Ω), gain. */
export function chartRows(
  supplyVolts: number,
  limit: number,
  source: string,
  rows: readonly (readonly [number, number, number, number])[],
): readonly ChartRow[] {
  return rows.map(([anodeOhms, gridOhms, cathodeOhms, gain]) => {
    return { supplyVolts, anodeOhms, gridOhms, cathodeOhms, gain, limit, source };
  });
}
