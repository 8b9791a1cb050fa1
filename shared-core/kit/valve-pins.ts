import { findValveBase } from '../valves/bases.ts';
import { findValveType } from '../valves/index.ts';
import type { OtherPin, ValveType } from '../valves/valve-type.ts';
import type { ValvePart } from './kit.ts';

/**
 * What a pin is that belongs to no section and no heater: free, internal, absent, a shield.
 *
 * @param own The kit's own types.
 * @returns Undefined for an ordinary electrode, and where type and socket do not fit each other anyway.
 */
export function otherPinOf(
  part: ValvePart,
  pin: string,
  own: readonly ValveType[] | undefined,
): OtherPin | undefined {
  const type = findValveType(part.type, own);
  if (!type || type.base !== findValveBase(part.socket.base)?.name) return undefined;
  return type.otherPins.find((other) => String(other.pin) === pin);
}
