import type { Part } from '../../shared-core/kit/kit.ts';
import { formatQuantity } from '../../shared-core/units/format-quantity.ts';
import {
  capacitorMarking,
  resistorBands,
  resistorMarking,
  toleranceLetter,
} from '../../shared-core/units/markings.ts';
import type { BandColour } from '../../shared-core/units/markings.ts';
import type { Unit } from '../../shared-core/units/unit.ts';

/** A part in figures: "1.5 kΩ ±5 %, 0.6 W". */
export function partFigures(part: Part): string {
  switch (part.kind) {
    case 'resistor':
      return `${formatQuantity(part.ohms, 'Ω')} ${spread(part.tolerance)}, ${formatQuantity(part.watts, 'W')}`;
    case 'potentiometer':
      return `${formatQuantity(part.ohms, 'Ω')} ${part.taper}`;
    case 'capacitor':
      return `${formatQuantity(part.farads, 'F')} ${spread(part.tolerance)}, ${formatQuantity(part.volts, 'V')}, ${part.type}`;
    case 'valve':
      return `${part.type}, socket ${part.socket.base}`;
    case 'mains-transformer':
      return `primary ${formatQuantity(part.primary.volts, 'V')}`;
    case 'output-transformer':
      return `${formatQuantity(part.primaryOhms, 'Ω')} to ${formatQuantity(part.secondaryOhms, 'Ω')}`;
    case 'choke':
      return formatQuantity(part.henries, 'H');
    case 'fuse':
      return `${part.speed} ${formatQuantity(part.amps, 'A')} ${part.breaking} ${formatQuantity(part.volts, 'V')}`;
    case 'tag-strip':
      return `${part.tags} tags`;
    case 'hardware':
      return `${part.count} ×`;
    case 'diode':
    case 'zener':
    case 'led':
    case 'transistor':
    case 'regulator':
      return part.type;
    default:
      return '';
  }
}

function spread({ low, high }: { readonly low: number; readonly high: number }): string {
  if (Math.abs(low + high) < 1e-9) return `±${formatQuantity(high, '%')}`;
  return `${formatQuantity(low, '%')} +${formatQuantity(high, '%')}`;
}

/** What is printed on a part, where it has no colour bands. */
export function partMarking(part: Part): string | null {
  if (part.marking !== undefined) return part.marking;
  if (part.kind === 'capacitor') {
    const letter = toleranceLetter(part.tolerance.low, part.tolerance.high) ?? '';
    return `${capacitorMarking(part.farads)}${letter} ${part.volts}V`;
  }
  return part.kind === 'resistor' && bandsOf(part) === null ? resistorMarking(part.ohms) : null;
}

/** The colour bands of a resistor up to 2 W; larger ones are printed. */
export function bandsOf(part: Part): readonly BandColour[] | null {
  if (part.kind !== 'resistor' || part.watts > 2) return null;
  return resistorBands(part.ohms, part.tolerance.high, 4) ?? resistorBands(part.ohms, part.tolerance.high, 5);
}

/** The unit that a part is measured in before it is fitted; null for parts that are only looked at. */
export function unitOfPart(part: Part): Unit | null {
  switch (part.kind) {
    case 'resistor':
    case 'potentiometer':
      return 'Ω';
    case 'capacitor':
      return 'F';
    case 'choke':
      return 'H';
    default:
      return null;
  }
}
