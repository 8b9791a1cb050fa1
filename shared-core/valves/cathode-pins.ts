import { filamentMiddle, type ValveSection, type ValveType } from './valve-type.ts';

/** The socket contacts at which a section's cathode is reached: both ends of a filament, else the cathode's pin. */
export function cathodePins(type: ValveType, section: ValveSection): readonly number[] {
  const pin = section.pins['cathode'];
  if (pin === undefined) return [];
  if (pin !== filamentMiddle) return [pin];
  const ends = type.heater.elements.flatMap(({ pins }) => pins);
  return [...new Set(ends)].filter((end) => end !== filamentMiddle);
}

/** A pin and those that are one with it inside the valve. */
export function joinedWith(type: ValveType, pin: number): readonly number[] {
  return type.joinedPins?.find((group) => group.includes(pin)) ?? [pin];
}
