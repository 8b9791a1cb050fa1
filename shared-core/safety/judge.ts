import type { MeterEntry, Verdict } from '../bands/verdict.ts';
import type { SafetyState } from './energy-state.ts';
import type { ReadingEntered } from './events.ts';
import type { ReadingFacts, SafetyFacts } from './facts.ts';
import { earthBondOhms, mostLeadOhms, ohmsZero } from './limits.ts';
import { conditionOf, isLiveReading } from './lookup.ts';
import type { Stamp } from './stamp.ts';

/**
 * The verdict that the gates work with: never milder than figures and limits allow.
 *
 * The verdict in the event comes from the bands; here it is held against stop limits, the kit's stated
 * expectation and the band that was shown, so that an edited verdict opens nothing.
 */
export function judgeForSafety(
  event: ReadingEntered,
  reading: ReadingFacts,
  state: SafetyState,
  facts: SafetyFacts,
  stamp: Stamp,
): Verdict {
  if (event.verdict === 'stop' || isPastStop(event, reading)) return 'stop';
  if (isStillWarming(reading, state, facts, stamp)) return 'still warming';
  if (isOutside(event, reading, state)) return 'out of band';
  return isUnfounded(event, reading) ? 'not predicted' : event.verdict;
}

/** Good by a verdict alone: no band, nothing that the kit states, and not an OL that the circuit shows. */
function isUnfounded({ verdict, band, entry }: ReadingEntered, reading: ReadingFacts): boolean {
  if (verdict !== 'as expected' && verdict !== 'borderline') return false;
  if (reading.expect !== null) return false;
  return entry.kind === 'overload' ? !reading.expectsOverload : band === null;
}

/** Past a stop limit, compared with sign; OL on a voltage is past every limit that it has. */
export function isPastStop(event: ReadingEntered, reading: ReadingFacts): boolean {
  return isEntryPastStop(event.entry, reading);
}

/** The same for what a meter shows. */
export function isEntryPastStop(
  entry: MeterEntry,
  reading: Pick<ReadingFacts, 'measure' | 'stopAbove' | 'stopBelow'>,
): boolean {
  if (entry.kind !== 'value') {
    const isVolts = reading.measure === 'dc volts' || reading.measure === 'ac volts';
    return isVolts && (reading.stopAbove !== null || reading.stopBelow !== null);
  }
  const { value } = entry;
  if (reading.stopAbove !== null && value > reading.stopAbove) return true;
  return reading.stopBelow !== null && value < reading.stopBelow;
}

function isStillWarming(
  reading: ReadingFacts,
  state: SafetyState,
  facts: SafetyFacts,
  stamp: Stamp,
): boolean {
  const { energy } = state;
  if (energy.kind !== 'live' || !isLiveReading(reading, facts)) return false;
  const readyAfterMs = (conditionOf(reading, facts)?.readyAfterSeconds ?? 0) * 1000;
  return stamp.tick - energy.since.tick < readyAfterMs;
}

function isOutside(event: ReadingEntered, reading: ReadingFacts, state: SafetyState): boolean {
  const { expect } = reading;
  if (event.entry.kind === 'overload') {
    if (expect !== null) return expect.overload !== true;
    return event.band !== null && event.band.nominal !== null;
  }
  const value = event.entry.value - leadOhms(reading, state);
  if (expect !== null) {
    if (expect.overload === true && expect.above === undefined) return true;
    if (expect.above !== undefined && !(value >= expect.above)) return true;
    if (expect.below !== undefined && !(value < expect.below)) return true;
  }
  if (reading.proves === 'earth-bond' && !isBonded(value, state)) return true;
  const { band } = event;
  if (band === null) return false;
  const raw = event.entry.value;
  return (band.lowest !== null && raw < band.lowest) || (band.highest !== null && raw > band.highest);
}

/** Below the limit, by lead ohms that can be true: a slip there would pass any bond, or read below nothing. */
function isBonded(ohms: number, state: SafetyState): boolean {
  const leads = state.bench?.leads.ohms ?? 0;
  return ohms < earthBondOhms && ohms >= -ohmsZero && leads <= mostLeadOhms;
}

/** Lead ohms are taken off where they matter: the earth bond. */
function leadOhms(reading: ReadingFacts, state: SafetyState): number {
  return reading.proves === 'earth-bond' ? (state.bench?.leads.ohms ?? 0) : 0;
}
