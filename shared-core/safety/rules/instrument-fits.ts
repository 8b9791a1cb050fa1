import type { SafetyState } from '../energy-state.ts';
import type { ReadingEntered } from '../events.ts';
import type { ReadingFacts, SafetyFacts } from '../facts.ts';
import type { Guard } from '../guard.ts';
import type { RecordedInstrument } from '../instrument.ts';
import { conditionOf, isLiveReading, safeVoltsOf } from '../lookup.ts';
import { refuse } from '../refusal.ts';
import type { Refusal } from '../refusal.ts';

/**
 * A number from an instrument: of a recorded one only, never for a proof, and nowhere that its insulation does
 * not reach.
 *
 * Asked before an instrument is read, and again when its number is entered.
 */
export const instrumentFits: Guard = {
  id: 'instrument-fits',
  check: ({ state, event, facts }) => {
    if (event.kind !== 'reading-entered' || event.instrument === undefined) return [];
    const reading = facts.readings.find((each) => each.id === event.reading);
    // An unknown reading is refused by its own rule.
    if (reading === undefined) return [];
    if (reading.proves !== null) return [isProof(reading)];
    const instrument = recordedInstrument(state, event.instrument.instrument);
    if (instrument === null) return [notRecorded(reading)];
    if (!isLiveReading(reading, facts)) return [];
    const volts = mostVolts(reading, event, facts);
    return instrument.isolated
      ? reachesFarEnough(instrument, reading, volts)
      : staysOnEarth(instrument, reading, volts, facts);
  },
};

/**
 * The most that a probe may meet, in volts (V): not at its place alone, since a probe slips, and a fault puts
 * volts where none are expected. Null when not known.
 */
function mostVolts(reading: ReadingFacts, { entry }: ReadingEntered, facts: SafetyFacts): number | null {
  const anywhere = conditionOf(reading, facts)?.maxVolts ?? null;
  if (anywhere === null || reading.probeVolts === null) return null;
  const shown = entry.kind === 'value' && reading.measure !== 'ohms' ? Math.abs(entry.value) : 0;
  return Math.max(Math.abs(anywhere), Math.abs(reading.probeVolts), shown);
}

/** An instrument as it was recorded in this build; null when it was not. */
export function recordedInstrument(
  { instruments = [] }: Pick<SafetyState, 'instruments'>,
  identity: string,
): RecordedInstrument | null {
  return instruments.find((each) => each.identity === identity) ?? null;
}

/** Places that are joined to earth while the plug is in. */
const earthPlaces: ReadonlySet<string> = new Set(['gnd', 'chassis', 'inlet.earth']);

/** Not isolated: its black lead is on earth, and a live point would go to earth through it. */
function staysOnEarth(
  { name }: RecordedInstrument,
  { title, id, against }: ReadingFacts,
  volts: number | null,
  facts: SafetyFacts,
): readonly Refusal[] {
  const refused = (why: string): Refusal =>
    refuse(
      'safety/instrument-volts',
      `${name} is recorded as not isolated: ${why}`,
      'Take its leads off. Use a meter that is isolated, and type what it shows.',
      id,
    );
  const safe = safeVoltsOf(facts);
  if (!earthPlaces.has(facts.netOf[against] ?? against)) {
    return [refused(`its black lead is on earth, and ${title} is not taken against the chassis.`)];
  }
  if (volts !== null && volts <= safe) return [];
  return [refused(`it may not be used above ${safe} V, and ${words(volts)}.`)];
}

/** Isolated up to its rating, which has to be above whatever a probe meets. */
function reachesFarEnough(
  { name, earthVolts }: RecordedInstrument,
  { id }: ReadingFacts,
  volts: number | null,
): readonly Refusal[] {
  if (volts !== null && volts <= earthVolts) return [];
  return [
    refuse(
      'safety/instrument-volts',
      `${name} is recorded as isolated up to ${earthVolts} V from earth, and ${words(volts)}.`,
      'Take its leads off. Use a meter that is rated for it, and type what it shows.',
      id,
    ),
  ];
}

function words(volts: number | null): string {
  return volts === null
    ? 'how many volts a probe may meet in this condition is not known'
    : `a probe may meet ${Math.ceil(volts)} V in this condition`;
}

function isProof({ id, title }: ReadingFacts): Refusal {
  return refuse(
    'safety/by-hand-only',
    `${title} is a proof: an instrument never settles one.`,
    'Read the display yourself and type the number.',
    id,
  );
}

function notRecorded({ id }: ReadingFacts): Refusal {
  return refuse(
    'safety/instrument-not-recorded',
    'This instrument is not recorded in this build.',
    'Record whether its inputs are isolated, and up to how many volts from earth.',
    id,
  );
}
