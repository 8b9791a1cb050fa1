import { filamentMiddle, type ValveType } from '../valves/valve-type.ts';

/** What can sit on a pin. `filament` is one that is the cathode too; any other one counts as a heater. */
export type ElectrodeKind =
  | 'anode'
  | 'grid'
  | 'screen'
  | 'cathode'
  | 'heater'
  | 'heater tap'
  | 'filament'
  | 'suppressor grid'
  | 'shield'
  | 'internal'
  | 'free'
  | 'absent';

/** One electrode of a valve at one pin. */
export interface Electrode {
  readonly pin: number;
  readonly kind: ElectrodeKind;
  /** Section of a double valve: "1", "2"; "" where there is one only, or for what belongs to none. */
  readonly section: string;
  /** Pin that it is to be joined to at the socket; null for none. */
  readonly joinTo: number | null;
}

/** The electrodes that take part in the circuit: the others only have to be left alone. */
export const circuitKinds: ReadonlySet<ElectrodeKind> = new Set(['anode', 'grid', 'screen', 'cathode']);

/** Every electrode of a type, pin by pin; a pin may hold two, as the cathode and heater of a rectifier. */
export function electrodesOf(type: ValveType): readonly Electrode[] {
  const inSections = type.sections.flatMap(({ name, pins }) =>
    Object.entries(pins).flatMap(([kind, pin]): readonly Electrode[] =>
      pin === filamentMiddle ? [] : [{ pin, kind: kind as ElectrodeKind, section: name, joinTo: null }],
    ),
  );
  const others = type.otherPins.map(({ pin, role, joinTo }): Electrode => {
    const kind = role === 'second anode' ? 'anode' : role === 'second cathode' ? 'cathode' : role;
    return { pin, kind, section: type.sections[0]?.name ?? '', joinTo };
  });
  return [...inSections, ...heaterPins(type), ...others].sort((one, other) => one.pin - other.pin);
}

function heaterPins({ heater }: ValveType): readonly Electrode[] {
  const meetings = new Map<number, number>();
  for (const pin of heater.elements.flatMap(({ pins }) => pins)) {
    meetings.set(pin, (meetings.get(pin) ?? 0) + 1);
  }
  const isFilament = meetings.has(filamentMiddle);
  return [...meetings]
    .filter(([pin]) => pin !== filamentMiddle)
    .map(([pin, count]) => ({
      ...{ pin, section: '', joinTo: null },
      kind: isFilament ? 'filament' : count > 1 ? 'heater tap' : 'heater',
    }));
}

/** "grid of section 2", "heater tap", "nothing (internal connection, to be left free)". */
export function electrodeWords(electrode: Pick<Electrode, 'kind' | 'section'>): string {
  const { kind, section } = electrode;
  switch (kind) {
    case 'free':
      return 'nothing';
    case 'absent':
      return 'no pin';
    case 'internal':
      return 'an internal connection, to be left free';
    default:
      return circuitKinds.has(kind) && section !== '' ? `${kind} of section ${section}` : kind;
  }
}

/** All that a type has on a pin, in words: "heater and cathode". */
export function pinWords(electrodes: readonly Electrode[], pin: number): string {
  const here = electrodes.filter((each) => each.pin === pin);
  return here.length === 0 ? 'nothing' : here.map(electrodeWords).join(' and ');
}

/** What a valve is for: one kind never stands in for another. */
export function valveDuty(type: ValveType): 'amplifier' | 'rectifier' | 'stabiliser' {
  if (type.sections.some(({ device }) => device === 'rectifier-valve')) return 'rectifier';
  return type.stabiliser ? 'stabiliser' : 'amplifier';
}
