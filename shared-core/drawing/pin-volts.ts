import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Place } from '../kit/kit.ts';
import { primaryEndsOf, windingEndsOf } from '../kit/transformer-ends.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { ValveType } from '../valves/valve-type.ts';

/** What a probe meets at a place while the plug is in. */
export interface PlaceVolts {
  /** Against the chassis, DC or rms, sign left out, in volts (V); null where no figure is known. */
  readonly volts: number | null;
  /** A winding or the mains is on the net: the DC figure says nothing there. */
  readonly alternates: boolean;
  /** Above the safe voltage, or not known to be below it. */
  readonly isHot: boolean;
}

/**
 * The volts of places in a live condition, alternating ones too.
 *
 * `netVolts` are DC: the anode of a rectifier has none of it and still carries the winding's volts. A winding
 * counts with its own volts at either end, and the mains side with the primary's, whatever is switched off.
 *
 * @param netVolts DC volts of every net to the chassis in this condition (V).
 */
export function placeVoltsIn(
  kit: ChosenKit,
  netVolts: Readonly<Record<string, number>>,
): (place: Place) => PlaceVolts {
  const alternating = windingVolts(kit);
  return (place) => {
    const net = kit.netOf[place] ?? '';
    const dc = netVolts[net];
    const ac = alternating.get(net);
    const volts = dc === undefined && ac === undefined ? null : Math.max(Math.abs(dc ?? 0), ac ?? 0);
    return { volts, alternates: ac !== undefined, isHot: volts !== null && volts > kit.safeVolts };
  };
}

/** Whether a pin is an anode of a rectifier: it alternates even where a resistor stands before it. */
export function isRectifierAnode(type: ValveType | null, pin: number): boolean {
  if (type === null || type.rectifier === null) return false;
  return type.sections.some(({ pins }) =>
    Object.entries(pins).some(([electrode, own]) => electrode === 'anode' && own === pin),
  );
}

/** Nets with an end of a winding or of the mains side, with the volts rms (V) to expect there. */
function windingVolts({ parts, netOf }: ChosenKit): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  const earths = new Set(['gnd', 'chassis'].map((name) => netOf[name] ?? name));
  const add = (place: Place, volts: number): void => {
    const net = netOf[place];
    if (net !== undefined && !earths.has(net)) found.set(net, Math.max(found.get(net) ?? 0, volts));
  };
  for (const part of parts) {
    if (part.kind === 'mains-inlet') {
      for (const end of ['line', 'neutral']) add(`${part.id}.${end}`, mainsVolts(parts));
    }
    if (part.kind !== 'mains-transformer') continue;
    for (const { end } of primaryEndsOf(part)) add(`${part.id}.${end}`, part.primary.volts);
    for (const winding of part.windings) {
      // The centre of a winding is where its DC is taken: it does not alternate.
      const ends = windingEndsOf(winding).filter((end) => !end.endsWith('.ct'));
      for (const end of ends) add(`${part.id}.${end}`, winding.volts);
    }
  }
  return found;
}

function mainsVolts(parts: ChosenKit['parts']): number {
  const primaries = parts.flatMap((part) => (part.kind === 'mains-transformer' ? [part.primary.volts] : []));
  return Math.max(0, ...primaries);
}

/**
 * Volts of a place in words, for a warning: to 50 V (below 100 V to 10 V) unless it was read itself, so that
 * the warning does not tell what the meter is to show.
 */
export function warningVolts(volts: number, isRough: boolean): string {
  const size = Math.abs(volts);
  if (!isRough) return formatQuantity(volts, 'V', 3);
  const step = size < 100 ? 10 : 50;
  return `about ${formatQuantity(Math.sign(volts) * Math.max(step, Math.round(size / step) * step), 'V', 3)}`;
}

/**
 * What is known of a net in a condition: `read` with a first number, `to read` with none yet, `no reading` where the
 * kit asks for none. Only of the first the figure may be told: the last tells what its neighbours in the circuit read.
 */
export function readState(
  { netOf, nets, readings }: Pick<ChosenKit, 'netOf' | 'nets' | 'readings'>,
  records: Readonly<Record<string, { readonly entries: readonly unknown[] }>>,
  condition: string,
  place: Place,
): 'read' | 'to read' | 'no reading' {
  const netAt = (at: Place): string => netOf[nets[at] ?? at] ?? at;
  const net = netAt(place);
  const own = readings.filter((reading) => reading.in === condition && netAt(reading.at) === net);
  if (own.length === 0) return 'no reading';
  return own.every(({ id }) => (records[id]?.entries.length ?? 0) > 0) ? 'read' : 'to read';
}
