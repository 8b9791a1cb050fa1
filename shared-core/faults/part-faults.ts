import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { CapacitorPart, DiodePart, Part, ResistorPart } from '../kit/kit.ts';
import { type BuiltKit, type Fault, type FaultSort, replacePart } from './fault.ts';

/** A short, in ohms (Ω): smaller ones meet the rounding floor beside megohms. */
const shortOhms = 0.1;

/** Leaky capacitors, in ohms (Ω): common practice, no source. */
const leaks = [
  ['leaky', 1e6],
  ['very leaky', 100e3],
] as const;

/** How far a value is off: a multiplier band misread, or a value three times off. */
const factors = [
  ['×10', 10],
  ['÷10', 1 / 10],
  ['×3', 3],
  ['÷3', 1 / 3],
] as const;

/** Everything that can be wrong with the parts themselves, valves left out. */
export function partFaults(chosen: ChosenKit): readonly Fault[] {
  return chosen.parts.flatMap((part): readonly Fault[] => {
    switch (part.kind) {
      case 'resistor':
        return [...openOrShorted(part), ...scaled(part, 'ohms')];
      case 'potentiometer':
        return [...trackFaults(part), ...scaled(part, 'ohms')];
      case 'capacitor':
        return [...openOrShorted(part), ...scaled(part, 'farads'), ...capacitorFaults(part)];
      case 'choke':
        return openOrShorted(part);
      case 'diode':
      case 'zener':
      case 'led':
        return [...openOrShorted(part), reversed(part)];
      case 'output-transformer':
        return [
          { ...named(part, 'primary open', 'broken part', 'has its primary open'), build: primaryOpen(part) },
        ];
      default:
        return [];
    }
  });
}

function named(part: Part, kind: string, sort: FaultSort, says: string): Omit<Fault, 'build'> {
  const places = 'between' in part ? part.between : [];
  return { part: part.id, kind, sort, words: `${part.id} ${says}`, places };
}

type SolderedPart = Extract<Part, { between: readonly [string, string] }>;

function openOrShorted(part: SolderedPart): readonly Fault[] {
  return [
    {
      ...named(part, 'open', 'broken part', 'is open or does not make contact'),
      build: (built) => replacePart(built, part.id, []),
    },
    {
      ...named(part, 'shorted', 'broken part', 'is shorted'),
      build: (built) => replacePart(built, part.id, [resistorFor(part, part.id, shortOhms)], false),
    },
  ];
}

function scaled(
  part: Extract<Part, { ohms: number } | { farads: number }>,
  figure: 'ohms' | 'farads',
): readonly Fault[] {
  return factors.map(([kind, factor]): Fault => {
    const size = factor > 1 ? `${factor} times too large` : `${Math.round(1 / factor)} times too small`;
    const value = (part as unknown as Record<string, number>)[figure] ?? 0;
    return {
      ...named(part, kind, 'wrong value', `is about ${size}`),
      build: (built) => replacePart(built, part.id, [{ ...part, [figure]: value * factor } as Part], false),
    };
  });
}

function trackFaults(part: Part): readonly Fault[] {
  return [
    {
      ...named(part, 'open', 'broken part', 'has its track open'),
      build: (built) => replacePart(built, part.id, [{ ...part, ohms: 1e9 } as Part], false),
    },
  ];
}

/** Leaks, and an electrolytic the wrong way round, whose oxide then conducts like a diode. */
function capacitorFaults(part: CapacitorPart): readonly Fault[] {
  const leaking = leaks.map(([kind, ohms]): Fault => ({
    ...named(part, kind, 'leaky', `leaks, about ${ohms >= 1e6 ? '1 MΩ' : '100 kΩ'}`),
    build: (built) => replacePart(built, part.id, [part, resistorFor(part, `${part.id}LEAK`, ohms)], false),
  }));
  if (part.type !== 'electrolytic') return leaking;
  return [
    ...leaking,
    {
      ...named(part, 'reversed', 'reversed', 'is the wrong way round'),
      build: (built) =>
        replacePart(built, part.id, [part, diodeFor(part, `${part.id}OXIDE`, part.between)], false),
    },
  ];
}

function reversed<Kind extends SolderedPart>(part: Kind): Fault {
  const [first, second] = part.between;
  return {
    ...named(part, 'reversed', 'reversed', 'is the wrong way round'),
    build: (built) => replacePart(built, part.id, [{ ...part, between: [second, first] as const }]),
  };
}

function primaryOpen(part: Extract<Part, { kind: 'output-transformer' }>): (built: BuiltKit) => BuiltKit {
  const open = { ...part, primaryDcrOhms: 1e9 };
  return (built) => {
    const halves: Part = part.pushPull ? { ...open, primaryHalvesDcrOhms: [1e9, 1e9] } : open;
    return replacePart(built, part.id, [halves], false);
  };
}

/** A resistor on the places of another part. */
export function resistorFor(part: SolderedPart, id: string, ohms: number): ResistorPart {
  const { when, title, between } = part;
  return { id, when, title, kind: 'resistor', ohms, tolerance: { low: 0, high: 0 }, watts: 1, between };
}

function diodeFor({ when, title }: Part, id: string, between: readonly [string, string]): DiodePart {
  return { id, when, title, kind: 'diode', type: 'oxide', reverseVolts: 1000, amps: 1, between };
}
