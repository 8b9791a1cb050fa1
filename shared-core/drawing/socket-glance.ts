import type { Verdict } from '../bands/verdict.ts';
import type { BuildState, ReadingRecord } from '../journal/build-state.ts';
import type { ChosenKit } from '../kit/chosen-kit.ts';
import type { Place, Reading, ValvePart } from '../kit/kit.ts';
import { unitOfMeasure } from '../kit/read/to-reading.ts';
import type { ShownBand } from '../safety/events.ts';
import { formatQuantity } from '../units/format-quantity.ts';
import type { Unit } from '../units/unit.ts';
import { findValveBase } from '../valves/bases.ts';
import type { ValveBase } from '../valves/bases.ts';
import { findValveType } from '../valves/index.ts';
import type { ValveType } from '../valves/valve-type.ts';
import { isRectifierAnode, placeVoltsIn } from './pin-volts.ts';
import { electrodeNames } from './socket-scene.ts';

/** One pin of a socket in one condition: what is known of it. */
export interface GlancePin {
  readonly pin: number;
  /** "anode", "heater"; empty where the type does not say. */
  readonly electrode: string;
  /** "246 V", "below 0.25 V"; null while its first number is not entered, and where nothing says. */
  readonly expected: string | null;
  readonly measured: string | null;
  readonly verdict: Verdict | null;
  /** The reading that speaks for the pin; null where the kit has none. */
  readonly reading: string | null;
  /** Where that was measured, if not on the pin itself: a place of the same net. */
  readonly elsewhere: string | null;
  /** More than the safe voltage is to be expected here, DC or alternating. */
  readonly isHot: boolean;
}

/** A valve's socket at a glance. */
export interface SocketGlance {
  readonly part: ValvePart;
  readonly base: ValveBase;
  /** What is fitted, else what the kit wants; null for a type that nobody knows. */
  readonly type: ValveType | null;
  /** False where the condition wants the socket empty. */
  readonly isFitted: boolean;
  readonly pins: readonly GlancePin[];
}

type BuildFigures = Pick<BuildState, 'readings' | 'fitted'>;

/**
 * All sockets of a kit in one condition.
 *
 * Expected figures are those that were shown with each verdict. A figure that was never shown stays hidden until
 * every reading of the condition has a first number, since a pin tells what its neighbour in the circuit reads.
 *
 * @param netVolts DC volts of every net to the chassis in this condition (V); null while not known.
 */
export function glanceSockets(
  kit: ChosenKit,
  build: BuildFigures,
  condition: string,
  netVolts: Readonly<Record<string, number>> | null,
): readonly SocketGlance[] {
  const of = kit.conditions.find(({ id }) => id === condition);
  const readings = kit.readings.filter((reading) => reading.in === condition);
  const isAllTaken = readings.every(({ id }) => (build.readings[id]?.entries.length ?? 0) > 0);
  const soldered = solderedPlaces(kit);
  const isLive = of !== undefined && of.supply !== 'unplugged';
  const at = netVolts === null ? null : placeVoltsIn(kit, netVolts);
  return kit.parts.flatMap((part): readonly SocketGlance[] => {
    const base = part.kind === 'valve' ? findValveBase(part.socket.base) : undefined;
    if (part.kind !== 'valve' || base === undefined) return [];
    const type = findValveType(build.fitted.valves[part.id] ?? part.type, kit.valves) ?? null;
    const names = type === null ? {} : electrodeNames(type);
    const pins = Array.from({ length: base.pins }, (_, index): GlancePin => {
      const place = `${part.id}.${index + 1}`;
      const electrode = names[index + 1] ?? '';
      const pin = describePin(kit, build, readings, part.id, index + 1);
      const { volts, alternates, isHot } = at?.(place) ?? { volts: null, alternates: false, isHot: false };
      const isAnode = isRectifierAnode(type, index + 1);
      // Heaters and rectifiers alternate, and a pin without any joint floats: no DC figure means anything there.
      const hasFigure = !alternates && !isAnode && electrode !== 'heater' && soldered.has(place);
      const isOpen = pin.reading === null && isAllTaken && hasFigure && of?.supply === 'mains';
      const dc = netVolts?.[kit.netOf[place] ?? ''];
      const expected = pin.expected ?? (isOpen && dc !== undefined ? shown(dc) : null);
      return { ...pin, electrode, expected, isHot: isLive && (isHot || (isAnode && volts !== null)) };
    });
    const isFitted = of?.fitted === 'all' || of?.fitted.includes(part.id) === true;
    return [{ part, base, type, isFitted, pins }];
  });
}

/** Places where a lead or a part's end is soldered. */
function solderedPlaces({ parts, leads }: ChosenKit): ReadonlySet<Place> {
  const ends = parts.flatMap((part) => ('between' in part ? part.between : []));
  return new Set([...ends, ...leads.flatMap(({ from, to }) => [from, to])]);
}

/** Microvolts of rounding are zero. */
function shown(volts: number): string {
  return formatQuantity(Math.abs(volts) < 1e-3 ? 0 : volts, 'V', 3);
}

type PinFigures = Omit<GlancePin, 'electrode' | 'isHot'>;

function describePin(
  kit: ChosenKit,
  build: BuildFigures,
  readings: readonly Reading[],
  part: string,
  pin: number,
): PinFigures {
  const reading = speaksFor(kit, build, readings, `${part}.${pin}`);
  const none = { pin, expected: null, measured: null, verdict: null, reading: null, elsewhere: null };
  if (reading === null) return none;
  const record = build.readings[reading.id];
  const place = kit.nets[reading.at] ?? reading.at;
  const elsewhere = place === `${part}.${pin}` ? null : place;
  const last = record?.entries.at(-1);
  const told = { ...none, reading: reading.id, elsewhere };
  if (record === undefined || last === undefined) return told;
  const unit = unitOfMeasure(reading.measure);
  const measured = last.entry.kind === 'overload' ? 'OL' : formatQuantity(last.entry.value, unit);
  const expected = last.band === null ? null : bandFigure(last.band, unit);
  return { ...told, expected, measured, verdict: record.verdict };
}

/** The reading on the pin itself, else one on its net against earth; one that was taken comes first. */
function speaksFor(
  { nets, netOf }: ChosenKit,
  { readings: records }: BuildFigures,
  readings: readonly Reading[],
  place: string,
): Reading | null {
  const earths = new Set(['gnd', 'chassis'].map((name) => netOf[nets[name] ?? name] ?? name));
  const own = netOf[place];
  const netAt = (at: string): string => netOf[nets[at] ?? at] ?? at;
  const ranked = readings.flatMap((reading) => {
    if (reading.measure === 'gain' || reading.measure === 'insulation') return [];
    const isHere = (nets[reading.at] ?? reading.at) === place;
    const isOnNet = own !== undefined && netAt(reading.at) === own && earths.has(netAt(reading.against));
    if (!isHere && !isOnNet) return [];
    return [{ reading, rank: (isHere ? 0 : 2) + (isTaken(records[reading.id]) ? 0 : 1) }];
  });
  return ranked.toSorted((one, other) => one.rank - other.rank)[0]?.reading ?? null;
}

function isTaken(record: ReadingRecord | undefined): boolean {
  return record !== undefined && record.entries.length > 0;
}

/** What a band expects, in a figure or a limit. */
export function bandFigure({ nominal, low, high }: ShownBand, unit: Unit): string | null {
  if (nominal !== null) return formatQuantity(nominal, unit, 3);
  if (low !== null && high !== null)
    return `${formatQuantity(low, unit, 3)} to ${formatQuantity(high, unit, 3)}`;
  if (high !== null) return `below ${formatQuantity(high, unit, 3)}`;
  return low === null ? null : `above ${formatQuantity(low, unit, 3)}`;
}
