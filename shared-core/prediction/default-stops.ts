import type { Place, Reading, ValvePart } from '../kit/kit.ts';
import { cathodePins } from '../valves/cathode-pins.ts';
import type { ValveType } from '../valves/valve-type.ts';
import { type ElementContext, partValue } from './element-context.ts';
import { valveInSocket } from './valve-elements.ts';

/** A stop limit is at least this far from zero, in volts (V): meters and pick-up show a few tenths on a dead net. */
const leastStopVolts = 1;

/** Where nothing nearer is known: this many times the far end of the band. */
const bandFactor = 1.5;

/** A positive net may read this share of its voltage below zero before the plug is pulled: reversed leads, hum. */
const reverseShare = 0.1;

/** Room above the computed warm-up peak for transformer and parts that are not nominal. */
const warmUpFactor = 1.05;

/** Heaters may be this far from their rated voltage before the plug is pulled. */
const heaterShare = 0.15;

/** What the limits are derived from, all in volts (V). */
export interface StopBasis {
  /** Far ends of the band; both ends the nominal figure where no band is known. */
  readonly lowest: number;
  readonly highest: number;
  /** Highest voltage of the net against the chassis while the valves warm up, high mains. */
  readonly warmUpVolts: number;
}

export interface StopLimits {
  readonly stopAbove: number | null;
  readonly stopBelow: number | null;
}

/**
 * Stop limits of a live reading for which the kit states none.
 *
 * Heaters: ±15 % of their rated voltage. Cathodes: the valve's highest current through the highest Rk.
 * Other nets: the lowest voltage rating on the net that the warm-up does not reach by itself. Otherwise
 * 1.5 times the far end of the band. No limit is below the warm-up peak.
 */
export function defaultStops(context: ElementContext, reading: Reading, basis: StopBasis): StopLimits {
  if (reading.measure !== 'dc volts' && reading.measure !== 'ac volts') {
    return { stopAbove: null, stopBelow: null };
  }
  const peak = warmUpFactor * basis.warmUpVolts;
  const far = Math.max(basis.highest, peak);
  const plain = Math.max(leastStopVolts, bandFactor * basis.highest, peak);
  if (reading.measure === 'ac volts') {
    const rated = heaterRatedVolts(context, reading);
    return rated === null
      ? { stopAbove: plain, stopBelow: null }
      : { stopAbove: rated * (1 + heaterShare), stopBelow: rated * (1 - heaterShare) };
  }
  if (basis.highest <= 0 && basis.lowest < -leastStopVolts) {
    // A negative supply: losing it is the danger, and so is too much of it.
    return { stopAbove: leastStopVolts, stopBelow: bandFactor * basis.lowest };
  }
  const stopBelow = -Math.max(leastStopVolts, bandFactor * Math.max(0, -basis.lowest), reverseShare * far);
  const { wiring } = context;
  const cathode = cathodeLimit(context, wiring.netAt(reading.at));
  if (cathode !== null) return { stopAbove: Math.max(cathode, basis.highest), stopBelow };
  if (wiring.netAt(reading.against) !== wiring.reference) return { stopAbove: plain, stopBelow };
  const ratings = netRatings(context, wiring.netAt(reading.at)).filter((volts) => volts > far);
  return { stopAbove: Math.min(plain, ...ratings), stopBelow };
}

/**
 * The nearest rating above which nothing may be let go on at a reading, in volts (V); null where none is known.
 *
 * A cathode's is the valve's highest current through the highest Rk; any other net's the lowest voltage rating on it
 * that the net does not reach by itself.
 *
 * @param reached Highest voltage that the net reaches by itself, warm-up included, in volts (V).
 */
export function ratedStop(context: ElementContext, reading: Reading, reached: number): number | null {
  const { wiring } = context;
  if (reading.measure !== 'dc volts' || wiring.netAt(reading.against) !== wiring.reference) return null;
  const cathode = cathodeLimit(context, wiring.netAt(reading.at));
  const far = warmUpFactor * reached;
  if (cathode !== null) return Math.max(cathode, far);
  const ratings = netRatings(context, wiring.netAt(reading.at)).filter((volts) => volts > far);
  return ratings.length === 0 ? null : Math.min(...ratings);
}

/** Voltage ratings of what sits between a net and the chassis, in volts (V). */
function netRatings(context: ElementContext, net: string): readonly number[] {
  const { chosen, wiring } = context;
  const reaches = (place: Place, other: Place): boolean =>
    wiring.netAt(place) === net && wiring.netAt(other) === wiring.reference;
  return chosen.parts.flatMap((part) => {
    if (part.kind === 'capacitor') {
      const [plus, minus] = part.between;
      return reaches(plus, minus) || reaches(minus, plus) ? [part.volts] : [];
    }
    if (part.kind !== 'valve') return [];
    const type = valveInSocket(context, part);
    return (type?.sections ?? []).flatMap((section) =>
      (['anode', 'screen'] as const).flatMap((pin) => {
        if (section.pins[pin] === undefined || section.device === 'rectifier-valve') return [];
        if (wiring.netAt(`${part.id}.${section.pins[pin]}`) !== net) return [];
        return ratingsOf(type, pin === 'anode' ? 'anodeVolts' : 'screenVolts');
      }),
    );
  });
}

function ratingsOf(
  type: ValveType | undefined,
  what: 'anodeVolts' | 'screenVolts' | 'cathodeAmps',
): number[] {
  return (type?.ratings ?? []).filter((rating) => rating.what === what).map(({ value }) => value);
}

/** Highest cathode current times the highest resistance from this net to the chassis, in volts (V). */
function cathodeLimit(context: ElementContext, net: string): number | null {
  const { chosen, wiring } = context;
  if (net === wiring.reference) return null;
  const amps = chosen.parts
    .filter((part): part is ValvePart => part.kind === 'valve')
    .map((part) => {
      const type = valveInSocket(context, part);
      const sections = (type?.sections ?? []).filter(
        (section) =>
          type !== undefined &&
          section.device !== 'rectifier-valve' &&
          cathodePins(type, section).some((pin) => wiring.netAt(`${part.id}.${pin}`) === net),
      );
      return sections.length * Math.max(0, ...ratingsOf(type, 'cathodeAmps'));
    })
    .reduce((sum, each) => sum + each, 0);
  if (amps === 0) return null;
  let siemens = 0;
  for (const part of chosen.parts) {
    if (part.kind !== 'resistor') continue;
    const nets = part.between.map((place) => wiring.netAt(place));
    if (!nets.includes(net) || !nets.includes(wiring.reference)) continue;
    siemens += 1 / (partValue(context, part.id, part.ohms) * (1 + part.tolerance.high));
  }
  return siemens > 0 ? amps / siemens : null;
}

/** Rated volts of a heater between the two nets, in volts (V); null where there is none. */
function heaterRatedVolts(context: ElementContext, reading: Reading): number | null {
  const { chosen, wiring } = context;
  const nets = [wiring.netAt(reading.at), wiring.netAt(reading.against)];
  for (const part of chosen.parts) {
    if (part.kind !== 'valve') continue;
    const heater = valveInSocket(context, part)?.heater;
    const netsOf = (pins: readonly number[]): readonly string[] =>
      pins.map((pin) => wiring.netAt(`${part.id}.${pin}`));
    for (const { sides, volts } of heater?.hookups ?? []) {
      const [one, other] = sides.map((pins) => new Set(netsOf(pins)));
      const isFed = one?.size === 1 && other?.size === 1 && nets[0] !== nets[1];
      if (isFed && nets.every((net) => one.has(net) !== other.has(net))) return volts;
    }
    for (const wire of heater?.elements ?? []) {
      const own = netsOf(wire.pins);
      if (own[0] !== own[1] && own.every((net) => nets.includes(net))) return wire.volts;
    }
  }
  return null;
}
