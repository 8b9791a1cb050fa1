import type { ChosenKit } from '../kit/chosen-kit.ts';
import { partIdOf } from '../kit/places.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import { capacitorMarking, resistorBands, resistorMarking } from '../units/markings.ts';
import type { Fault } from './fault.ts';

/** How to find and mend a cause: to be done dead, plug out and every store proven empty. */
export interface Repair {
  /** Look and touch, in the imperative. */
  readonly look: string;
  /** Parts and leads worked on: what the repair event names. */
  readonly parts: readonly string[];
  /** Places that are touched; their cold ohms, and those of their neighbours, are to be taken again. */
  readonly places: readonly string[];
}

/** Begins every advice. */
export const repairFirst = 'Pull the plug, lay it in sight and prove every store empty.';

/**
 * What to look at and touch for a fault.
 *
 * Markings after IEC 60062. What a repair invalidates is a matter of the places it touches (safety rule 11).
 */
export function repairOf(chosen: ChosenKit, fault: Fault): Repair {
  const parts = [
    ...new Set([fault.part, ...fault.places.flatMap((place) => partIdOf(place) ?? place)]),
  ].filter(
    (id) => chosen.parts.some((part) => part.id === id) || chosen.leads.some((lead) => lead.id === id),
  );
  const places = fault.places.filter((place) => place.includes('.'));
  return { look: lookOf(chosen, fault), parts, places };
}

function lookOf(chosen: ChosenKit, { part, kind, sort, words, places }: Fault): string {
  const where = places.join(' and ');
  switch (sort) {
    case 'joint missing':
      return `Tug gently at what is soldered at ${where}, look at the joints with a lens, and reflow them.`;
    case 'wrong place':
      return `Follow it from end to end against the drawing: ${words}.`;
    case 'bridge':
      return `Look between ${where} with a lens for solder or a stray strand, and clear it with a plastic pick.`;
    case 'leads exchanged':
      return `Follow both leads from end to end against the drawing: ${words}.`;
    case 'exchanged part':
    case 'wrong value':
      return markingOf(chosen, part);
    case 'broken part':
      return kind === 'shorted'
        ? `Look at ${part} and around its ends for a short; lift one end and measure it by itself.`
        : `Reflow both ends of ${part}; lift one end and measure it by itself.`;
    case 'reversed':
      return `Compare the mark on ${part} (plus, ring) with the drawing. Replace it if it was on the wrong way round.`;
    case 'leaky':
      return `Lift one end of ${part} and measure across it on the highest ohms range: it must show OL.`;
    case 'valve missing':
      return `Press ${part} all the way into its socket and look at its pins.`;
    case 'valve worn':
      return `Look whether the heater of ${part} glows; try another valve of its type.`;
    case 'wrong valve':
      return `Read the type on the glass of ${places.join(' and ')}.`;
    default:
      return `Look at ${part}: ${words}.`;
  }
}

function markingOf({ parts }: ChosenKit, id: string): string {
  const part = parts.find((each) => each.id === id);
  if (part?.kind === 'resistor') {
    const count = part.tolerance.high <= 0.02 ? 5 : 4;
    const bands = resistorBands(part.ohms, part.tolerance.high, count);
    const code = bands === null ? '' : ` (${bands.join(', ')}, or ${resistorMarking(part.ohms)})`;
    const value = formatQuantity(part.ohms, 'Ω');
    return `Read the bands of ${id}: ${value}${code}. Lift one end and measure it by itself.`;
  }
  if (part?.kind === 'capacitor') {
    return `Read the marking of ${id}: ${formatQuantity(part.farads, 'F')} (${capacitorMarking(part.farads)}).`;
  }
  return `Read the marking of ${id}.`;
}
