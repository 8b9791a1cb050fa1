import type { ChosenKit } from '../../shared-core/kit/chosen-kit.ts';
import type { CapacitorPart, Part, ResistorPart } from '../../shared-core/kit/kit.ts';
import { sectionName } from '../../shared-core/prediction/valve-elements.ts';
import type { World } from '../../shared-core/prediction/world.ts';
import { findValveType } from '../../shared-core/valves/index.ts';

/** One thing wrong with a kit. */
export interface SingleFault {
  readonly title: string;
  readonly kit: ChosenKit;
  /** What is wrong where it is a quantity that is off, relative. */
  readonly flaw: World;
}

const openOhms = 1e9;
const shortOhms = 0.1;
/** A leaky capacitor, in ohms (Ω). */
const leakOhms = 220e3;
/** What is left of the current of a section without emission. */
const noEmission = 1e-6;

/**
 * Single faults of the parts of a kit: resistors and potentiometers open, shorted, three times and a third;
 * capacitors open, shorted, leaky, three times and a third; valve sections without emission, weak, too strong;
 * output transformer open. Joints and bridges are not among them.
 */
export function kitFaults(kit: ChosenKit): readonly SingleFault[] {
  const inPlace = (part: Part, title: string, ...others: readonly Part[]): SingleFault => ({
    title: `${part.id} ${title}`,
    kit: { ...kit, parts: kit.parts.flatMap((each) => (each === part ? others : [each])) },
    flaw: {},
  });
  return kit.parts.flatMap((part): readonly SingleFault[] => {
    if (part.kind === 'resistor' || part.kind === 'potentiometer') {
      const as = (title: string, ohms: number): SingleFault => inPlace(part, title, { ...part, ohms });
      return [
        ...[as('open', openOhms), as('× 3', part.ohms * 3), as('÷ 3', part.ohms / 3)],
        ...(part.kind === 'resistor' ? [as('shorted', shortOhms)] : []),
      ];
    }
    if (part.kind === 'capacitor') {
      return [
        inPlace(part, 'open'),
        inPlace(part, '× 3', { ...part, farads: part.farads * 3 }),
        inPlace(part, '÷ 3', { ...part, farads: part.farads / 3 }),
        inPlace(part, 'shorted', resistorFor(part, part.id, shortOhms)),
        inPlace(part, 'leaky', part, resistorFor(part, `${part.id}LEAK`, leakOhms)),
      ];
    }
    if (part.kind === 'output-transformer') {
      return [inPlace(part, 'primary open', { ...part, primaryDcrOhms: openOhms })];
    }
    if (part.kind !== 'valve') return [];
    return (findValveType(part.type)?.sections ?? []).flatMap((section): readonly SingleFault[] => {
      const name = sectionName(part, section);
      const as = (title: string, factor: number): SingleFault => ({
        title: `${name} ${title}`,
        kit,
        flaw: { [`${name}.emission`]: factor - 1 },
      });
      return [as('without emission', noEmission), as('weak, ÷ 3', 1 / 3), as('too strong, × 3', 3)];
    });
  });
}

function resistorFor({ between, ...common }: CapacitorPart, id: string, ohms: number): ResistorPart {
  return { ...common, kind: 'resistor', id, ohms, tolerance: { low: 0, high: 0 }, watts: 1, between };
}
