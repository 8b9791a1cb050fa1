import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { ValvePart } from '../kit/kit.ts';
import { wireCondition } from '../prediction/wiring.ts';
import { findValveBase } from '../valves/bases.ts';
import type { ValveType } from '../valves/valve-type.ts';
import { type Electrode, electrodesOf } from './fit-electrodes.ts';

/** A socket as it is soldered: what each pin is joined to, and what the kit's type has there. */
export interface WiredSocket {
  readonly part: ValvePart;
  readonly kitType: ValveType;
  readonly base: string;
  readonly pins: readonly number[];
  /** Net that everything is measured from. */
  readonly reference: string;
  readonly netOf: (pin: number) => string;
  /** Whether anything is soldered to the pin. */
  readonly isWired: (pin: number) => boolean;
  /** Electrodes of the kit's type that are soldered to a net at this socket. */
  readonly kitElectrodesOn: (net: string) => readonly Electrode[];
  /** Every electrode of the kit's type whose pin is soldered. */
  readonly wiredElectrodes: readonly Electrode[];
}

/** Looks at a socket: switches as they rest, fuses in place. */
export function wireSocket(chosen: ChosenKit, part: ValvePart, kitType: ValveType): WiredSocket {
  const wiring = wireCondition(chosen, null);
  const soldered = new Set([
    ...chosen.parts.flatMap((each) => ('between' in each ? each.between : [])),
    ...chosen.leads.flatMap(({ from, to }) => [from, to]),
  ]);
  const netOf = (pin: number): string => wiring.netAt(`${part.id}.${pin}`);
  const isWired = (pin: number): boolean => soldered.has(`${part.id}.${pin}`);
  const wiredElectrodes = electrodesOf(kitType).filter(({ pin }) => isWired(pin));
  const base = findValveBase(part.socket.base);
  return {
    ...{ part, kitType, base: base?.name ?? part.socket.base, reference: wiring.reference },
    pins: Array.from({ length: base?.pins ?? 0 }, (_, index) => index + 1),
    ...{ netOf, isWired, wiredElectrodes },
    kitElectrodesOn: (net) => wiredElectrodes.filter(({ pin }) => netOf(pin) === net),
  };
}

/** The two nets between which a socket's heater is fed, and with how many volts by the kit's own type. */
export interface HeaterFeed {
  readonly nets: readonly [string, string];
  /** Rated volts of the kit's type in this hook-up (V). */
  readonly volts: number;
}

/**
 * How the heater of a type would be hooked up in a socket.
 *
 * @returns Undefined where none of its hook-ups is what the pins are soldered to.
 */
export function hookUpIn(
  socket: Pick<WiredSocket, 'netOf' | 'isWired'>,
  type: ValveType,
): HeaterFeed | undefined {
  for (const { volts, sides } of type.heater.hookups) {
    const [one, other] = sides.map((pins) => new Set(pins.map(socket.netOf)));
    const first = [...(one ?? [])][0];
    const second = [...(other ?? [])][0];
    const isWhole = one?.size === 1 && other?.size === 1 && first !== second;
    const isSoldered = sides.flat().every((pin) => socket.isWired(pin));
    if (isWhole && isSoldered && first !== undefined && second !== undefined) {
      return { nets: [first, second], volts };
    }
  }
  return undefined;
}
